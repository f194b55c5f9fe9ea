//! `porringer explain`

use std::fmt::Write;

use crate::cli::{CLEAN, Failure, say};
use crate::diagnostic::{CODES, Code, did_you_mean};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// A code, such as safety/bean-not-boiled; without one, all are listed.
    code: Option<String>,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let Some(name) = &arguments.code else {
        let mut out = String::new();
        let mut family = "";
        for code in CODES {
            if code.family() != family {
                if !family.is_empty() {
                    out.push('\n');
                }
                family = code.family();
            }
            let _ = writeln!(out, "{:<34} {:<8} {}", code.name(), code.severity().word(), code.title());
        }
        say(&out);
        return Ok(CLEAN);
    };
    let code = Code::from_name(name).ok_or_else(|| {
        let near = did_you_mean(name, CODES.iter().map(|code| code.name()));
        Failure(match near {
            Some(near) => format!("there is no message `{name}`; did you mean `{near}`?"),
            None => format!("there is no message `{name}`; `porringer explain` lists them all"),
        })
    })?;
    let mut page = code.page().trim_end().to_owned();
    page.push('\n');
    say(&page);
    Ok(CLEAN)
}
