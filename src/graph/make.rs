//! The graph for make.

use super::files::{Step, Steps, Unnamable, quoted};

/// # Errors
/// A path that make cannot name.
pub fn write(steps: &Steps) -> Result<String, Unnamable> {
    let mut text = String::from(
        "# Written by porringer. An equals sign in a name would make a line a setting.\n\
         equals := =\n",
    );
    text.push_str(&format!("PORRINGER ?= {}\n\n", dollars(&quoted(&steps.program))));
    text.push_str(".PHONY: all\nall:");
    for step in &steps.steps {
        text.push_str(" \\\n  ");
        text.push_str(&path(&step.output, false)?);
    }
    text.push_str("\n.DELETE_ON_ERROR:\n");
    for step in steps.again.iter().chain(&steps.steps) {
        rule(step, &mut text)?;
    }
    Ok(text)
}

fn rule(step: &Step, text: &mut String) -> Result<(), Unnamable> {
    text.push('\n');
    text.push_str(&path(&step.output, true)?);
    text.push(':');
    for input in &step.inputs {
        text.push_str(" \\\n  ");
        text.push_str(&path(input, false)?);
    }
    let words: Vec<String> = step.arguments.iter().map(|word| dollars(&quoted(word))).collect();
    // What would be the same is not written again, and keeps its time; make
    // goes by times alone.
    let touch = dollars(&quoted(&step.output));
    text.push_str(&format!("\n\t$(PORRINGER) {}\n\t@touch -- {touch}\n", words.join(" ")));
    Ok(())
}

/// A path as a target or a prerequisite. What make has no way to be told is an
/// error: a backslash, `;`, `|`, and a name in brackets at the end, which is a
/// member of an archive.
fn path(path: &str, target: bool) -> Result<String, Unnamable> {
    let mut out = String::with_capacity(path.len() + 8);
    if path.starts_with('~') {
        out.push_str("./");
    }
    for letter in path.chars() {
        match letter {
            '\\' | ';' | '|' => return Err(Unnamable(path.to_owned())),
            letter if letter.is_control() => return Err(Unnamable(path.to_owned())),
            '$' => out.push_str("$$"),
            '=' => out.push_str("$(equals)"),
            // It is only special where a rule could be a pattern.
            '%' if !target => out.push('%'),
            ' ' | '#' | ':' | '%' | '*' | '?' | '[' | ']' => {
                out.push('\\');
                out.push(letter);
            }
            letter => out.push(letter),
        }
    }
    if path.ends_with(')') { Err(Unnamable(path.to_owned())) } else { Ok(out) }
}

fn dollars(word: &str) -> String {
    word.replace('$', "$$")
}
