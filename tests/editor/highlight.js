// The grammar for highlighting, run by the engine that editors use: no line of
// the demo set is taken for a wrong one, and every kind of word is found.
//
//   node tests/editor/highlight.js grammar/dish.tmLanguage.json recipes/*
//
// Needs the packages vscode-textmate and vscode-oniguruma (NODE_PATH).

const fs = require("fs");
const textmate = require("vscode-textmate");
const oniguruma = require("vscode-oniguruma");

const WANTED = [
  "keyword.control", "support.function.process", "constant.numeric", "keyword.other.unit", "variable.other",
  "constant.language.state", "constant.language.tag", "string.unquoted", "comment.line.number-sign",
];

async function main() {
  const [grammarFile, ...files] = process.argv.slice(2);
  await oniguruma.loadWASM(fs.readFileSync(require.resolve("vscode-oniguruma/release/onig.wasm")).buffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(grammarFile, "utf8"), grammarFile),
  });
  const grammar = await registry.loadGrammar("source.porringer");
  const counts = {};
  let wrong = 0;
  for (const file of files.filter((name) => /\.(dish|menu|booklet)$/.test(name))) {
    let state = textmate.INITIAL;
    for (const line of fs.readFileSync(file, "utf8").split(/\r?\n/)) {
      const found = grammar.tokenizeLine(line, state);
      state = found.ruleStack;
      for (const token of found.tokens) {
        const scope = token.scopes[token.scopes.length - 1].replace(/\.porringer$/, "");
        counts[scope] = (counts[scope] || 0) + 1;
        if (scope.startsWith("invalid")) {
          console.log(`${file}: ${line}`);
          wrong += 1;
        }
      }
    }
  }
  const missing = WANTED.filter((scope) => !counts[scope]);
  if (missing.length > 0) console.log(`never found: ${missing.join(", ")}`);
  console.log(`highlighting: ${Object.values(counts).reduce((sum, count) => sum + count, 0)} words, ${wrong} wrong`);
  process.exit(wrong > 0 || missing.length > 0 ? 1 : 0);
}

main();
