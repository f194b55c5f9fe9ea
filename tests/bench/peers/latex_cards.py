"""The cards with pdfLaTeX: bars as rules, drawings as literal paths."""

import os
import shutil
import subprocess
import tempfile

import content

HEAD = r"""\documentclass{article}
\usepackage[T1]{fontenc}\usepackage{lmodern}\usepackage[utf8]{inputenc}\usepackage{textcomp}
\usepackage[paperwidth=148mm,paperheight=210mm,margin=9mm]{geometry}
\renewcommand{\familydefault}{\sfdefault}\pagestyle{empty}\parindent0pt\parskip0pt
\tabcolsep1.5pt\renewcommand{\arraystretch}{.95}
\DeclareUnicodeCharacter{2248}{$\approx$}\DeclareUnicodeCharacter{2265}{$\geq$}
\DeclareUnicodeCharacter{2264}{$\leq$}\DeclareUnicodeCharacter{2212}{$-$}
\DeclareUnicodeCharacter{2153}{1/3}\DeclareUnicodeCharacter{2154}{2/3}
\DeclareUnicodeCharacter{215B}{1/8}\DeclareUnicodeCharacter{2011}{-}\DeclareUnicodeCharacter{2044}{/}
\DeclareUnicodeCharacter{202F}{\,}\DeclareUnicodeCharacter{2009}{\,}\DeclareUnicodeCharacter{2060}{}
\DeclareUnicodeCharacter{3BC}{$\mu$}\DeclareUnicodeCharacter{2013}{--}
\newcommand\drawn[3]{\leavevmode\hbox to#1{\vbox to#2{\vfil\pdfliteral{#3}}\hss}}
\begin{document}\raggedright\fontsize{8.4}{9.7}\selectfont
"""
SPECIAL = {"\\": r"\textbackslash{}", "{": r"\{", "}": r"\}", "$": r"\$", "&": r"\&", "#": r"\#", "_": r"\_", "%": r"\%", "~": r"\~{}", "^": r"\^{}"}
DRAWN = {}


def tex(text):
    return "".join(SPECIAL.get(letter, letter) for letter in str(text or ""))


def drawing(name, height):
    """A drawing as the operators of a PDF, written once in every process."""
    if (name, height) not in DRAWN:
        drawn = content.DRAWINGS[name]
        words = [f"q {height / 24:.4f} 0 0 {-height / 24:.4f} 0 {height} cm 1 J 1 j"]
        for part in drawn["parts"]:
            if part["clip"]:
                words.append(f"q {path_of(part['clip'])} W n")
            if part["stroke"]:
                words.append(f"{part['stroke']} w")
            paint = {(True, True): "B", (True, False): "f", (False, True): "S"}.get((part["fill"], bool(part["stroke"])), "n")
            words.append(f"{path_of(part['path'])} {paint}")
            if part["clip"]:
                words.append("Q")
        words.append("Q")
        wide = drawn["width"] * height / 24
        DRAWN[name, height] = rf"\drawn{{{wide:.2f}bp}}{{{height}bp}}{{{' '.join(words)}}}"
    return DRAWN[name, height]


def path_of(items):
    return " ".join(" ".join([*map(str, numbers), operator]) for operator, numbers in items)


def measures(measure):
    names, times = content.drawn(measure)
    words = [drawing(name, content.MEASURE) for name in names]
    if times:
        words.insert(1, rf" $\times$ \textbf{{{tex(times)}}} ")
    return r"\,".join(words)


def bar(share):
    return rf"\rule{{{min(share or 0, 1.15) * 45:.2f}pt}}{{5pt}}"


def front(card):
    out = [rf"{{\Large\bfseries {tex(card['title'])}}}\par", rf"{tex(card['ages']['label'])} \textbf{{{tex(card['ages']['text'])}}} \hfill {tex(card['programme'])}\par"]
    for month in card["ages"]["months"]:
        out.append(rf"\framebox[18pt]{{{month['month']}}}" if not month["on"] else rf"\framebox[18pt]{{\textbf{{{month['month']}}}}}\kern0pt")
    out.append(r"\par ")
    times = [rf"{tex(time['label'])} \textbf{{{tex(time['text'])}}}" for time in card["times"]]
    if card["makes"]:
        times.append(rf"{tex(card['makes']['label'])} \textbf{{{tex(card['makes']['text'])}}}")
    out.append(r"\quad ".join([*times, tex(card["start"])]) + r"\par\hrule")
    out.append(rf"{{\large\bfseries {tex(card['ingredients']['label'])}}}\par")
    heading = None
    for title, item in content.ingredients(card):
        if title != heading and title:
            out.append(rf"\textbf{{{tex(title)}}}\par")
        heading = title
        amount, food, grams = content.words_of(item)
        out.append(rf"{measures(item['measure'])} \textbf{{{tex(amount)}}} {tex(food)} \hfill {tex(grams)}\par")
    out.append(rf"\hrule{{\large\bfseries {tex(card['method']['label'])}}}\par")
    for step in card["method"]["steps"]:
        sentence, time, rest, cautions = content.step_words(step)
        said = " ".join(rf"{drawing('caution', 9)} \textbf{{{tex(caution)}}}" for caution in cautions)
        icon = "" if step["kind"] == "part" else rf"\makebox[26pt][l]{{\raisebox{{-9pt}}[11pt][9pt]{{{drawing(content.step_drawing(step), content.ICON)}}}}}"
        time = drawing("clock", 9) + " " + tex(time) if time else ""
        out.append(rf"\hangindent38pt\makebox[12pt][l]{{\textbf{{{step['number_text'] or ''}}}}}{icon}\textbf{{{tex(sentence)} {time}}} {tex(rest)} {said}\par")
    out.append(rf"\hrule{{\large\bfseries {tex(card['portions']['label'])}}}\par")
    for item in card["portions"]["items"]:
        out.append(rf"{measures(item['measure'])} {tex(item['age'])} \textbf{{{tex(item['text'])}}} ({tex(item['grams'])})\par")
    out.extend(rf"\textbf{{{tex(label)}:}} {tex(text)}\par" for label, text in content.remarks(card))
    out.append(rf"\hrule {drawing('caution', 13)} {tex(' '.join(card['standing']))}\newpage")
    return "\n".join(out)


def back(card):
    data = card["back"]
    columns = "lrl" * len(data["bands"])
    heads = "".join(rf"&\multicolumn{{3}}{{l}}{{\shortstack[l]{{\textbf{{{tex(band['label'])}}}\\{tex(band['portion'])}}}}}" for band in data["bands"])
    out = [rf"{{\large\bfseries {tex(data['title'])}}} \hfill {tex(card['title'])}\par {tex(data['explain'])}\par"]
    out.append(rf"\begin{{tabular}}{{ll{columns}}}&{heads}\\\hline \multicolumn{{2}}{{l}}{{\textbf{{{tex(data['energy_label'])}}}}}")
    out.extend(rf"&{bar(cell['share'])}&\textbf{{{tex(cell['share_text'])}}}&{tex(cell['kcal'])}" for cell in data["energy"])
    out.append(r"\\")
    for group in data["groups"]:
        out.append(r"\hline")
        for at, row in enumerate(group["rows"]):
            title = rf"\textbf{{{tex(group['title'])}}}" if at == 0 else ""
            cells = "".join(rf"&{bar(cell['share'])}&\textbf{{{tex(cell['share_text'] or '–')}}}&{'≥ ' if cell['at_least'] else ''}{tex(cell['amount'])}" for cell in row["cells"])
            out.append(rf"{title}&{tex(row['name'])}{cells}\\")
    out.append(r"\hline\end{tabular}\par")
    out.extend(rf"\textbf{{{tex(title)}:}} {tex(text)}\par" for title, text in content.small_print(card))
    out.append(rf"\hrule {drawing('caution', 12)} \textbf{{{tex(' '.join(data['standing']))}}} {tex(card['footer'])}")
    return "\n".join(out)


def make(card, path, _):
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "card.tex"), "w", encoding="utf-8") as file:
            file.write(HEAD + front(card) + back(card) + r"\end{document}")
        ran = subprocess.run(["pdflatex", "-interaction=nonstopmode", "card.tex"], cwd=folder, stdout=subprocess.PIPE, check=False)
        made = os.path.join(folder, "card.pdf")
        if not os.path.exists(made):
            raise SystemExit(ran.stdout.decode(errors="replace")[-2000:])
        shutil.move(made, path)


if __name__ == "__main__":
    content.run(make)
