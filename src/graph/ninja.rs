//! The graph for ninja, and for engines that read its files.

use super::files::{Step, Steps, Unnamable, quoted};

/// # Errors
/// A path that ninja cannot name.
pub fn write(steps: &Steps) -> Result<String, Unnamable> {
    let mut text = String::from("# Written by porringer.\nninja_required_version = 1.3\n\n");
    text.push_str(&format!("porringer = {}\n\n", value(&quoted(&steps.program))?));
    // What would be the same is not written again: then nothing that rests on
    // it is made again either.
    text.push_str("rule card\n  command = $porringer $call\n  description = $out\n  restat = 1\n\n");
    if let Some(again) = &steps.again {
        text.push_str(
            "rule graph\n  command = $porringer $call\n  description = $out\n  generator = 1\n  restat = 1\n\n",
        );
        edge("graph", again, &mut text)?;
    }
    for step in &steps.steps {
        edge("card", step, &mut text)?;
    }
    text.push_str("build all: phony");
    for step in &steps.steps {
        text.push_str(" $\n    ");
        text.push_str(&path(&step.output)?);
    }
    text.push_str("\ndefault all\n");
    Ok(text)
}

fn edge(rule: &str, step: &Step, text: &mut String) -> Result<(), Unnamable> {
    text.push_str(&format!("build {}: {rule}", path(&step.output)?));
    for input in &step.inputs {
        text.push_str(" $\n    ");
        text.push_str(&path(input)?);
    }
    let words: Vec<String> = step.arguments.iter().map(|word| quoted(word)).collect();
    text.push_str(&format!("\n  call = {}\n\n", value(&words.join(" "))?));
    Ok(())
}

fn path(path: &str) -> Result<String, Unnamable> {
    Ok(value(path)?.replace(' ', "$ ").replace(':', "$:"))
}

fn value(text: &str) -> Result<String, Unnamable> {
    if text.chars().any(char::is_control) {
        return Err(Unnamable(text.to_owned()));
    }
    Ok(text.replace('$', "$$"))
}
