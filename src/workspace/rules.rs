//! `[rules]` of the settings: which rules a programme judges otherwise, each
//! with its reason.

use toml::Spanned as Placed;
use toml::de::DeValue;

use crate::diagnostic::rules::{Change, RuleBook};
use crate::diagnostic::{CODES, Code, Diagnostic, Severity, Sink, did_you_mean, quote};
use crate::reference::profile::Profile;
use crate::source::{Span, Spanned};

/// How a line is written; help for every fault of form.
const PATTERN: &str = "it is written like this: `\"safety/added-salt\" = { severity = \"note\", reason = \"…\" }`";
const KEYS: [&str; 4] = ["severity", "off", "reason", "from_months"];

/// A change with the place where it stands.
pub type RuleLine = Spanned<Change>;

fn span<T>(placed: &Placed<T>) -> Span {
    Span::new(placed.span().start, placed.span().end)
}

/// Reads the table; what is wrong is left out.
pub fn read(value: &Placed<DeValue<'_>>, sink: &mut Sink) -> Vec<RuleLine> {
    let mut lines = Vec::new();
    let DeValue::Table(table) = value.get_ref() else {
        sink.push(
            Diagnostic::new(Code::WorkspaceUnknownKey, span(value), "`rules` wants a table")
                .help("write `[rules]` on a line of its own, and below it one line a rule"),
        );
        return lines;
    };
    for (key, value) in table {
        let place = span(key);
        let name: &str = key.get_ref();
        let Some(code) = Code::from_name(name) else {
            let mut message = Diagnostic::new(Code::WorkspaceUnknownKey, place, format!("{} is no rule", quote(name)));
            message = match did_you_mean(name, CODES.iter().map(|code| code.name())) {
                Some(near) => message.help(format!("did you mean `\"{near}\"`?")).fix(place, format!("\"{near}\"")),
                None => message.help("`porringer explain` lists the rules"),
            };
            sink.push(message);
            continue;
        };
        if let Some(change) = line(code, place, value, sink) {
            lines.push(Spanned::new(change, place));
        }
    }
    lines
}

fn line(code: Code, place: Span, value: &Placed<DeValue<'_>>, sink: &mut Sink) -> Option<Change> {
    let DeValue::Table(table) = value.get_ref() else {
        sink.push(
            Diagnostic::new(Code::WorkspaceUnknownKey, span(value), format!("`{}` wants a table", code.name()))
                .help(PATTERN),
        );
        return None;
    };
    let (mut severity, mut off, mut reason, mut from_months) = (None, false, None, 0);
    let mut sound = true;
    for (key, value) in table {
        let name: &str = key.get_ref();
        let mut wrong = |what: &str| {
            sink.push(
                Diagnostic::new(Code::WorkspaceUnknownKey, span(value), format!("`{name}` wants {what}")).help(PATTERN),
            );
            sound = false;
        };
        match (name, value.get_ref()) {
            ("severity", DeValue::String(word)) => match word.as_ref() {
                "note" => severity = Some(Severity::Note),
                "warning" => severity = Some(Severity::Warning),
                "error" => severity = Some(Severity::Error),
                _ => wrong("`note`, `warning` or `error`"),
            },
            ("severity", _) => wrong("`note`, `warning` or `error`"),
            ("off", DeValue::Boolean(true)) => off = true,
            ("off", _) => wrong("`true`"),
            ("reason", DeValue::String(words)) => {
                let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
                reason = (!words.is_empty()).then_some(words);
            }
            ("reason", _) => wrong("a text"),
            ("from_months", DeValue::Integer(number)) => match number.as_str().parse::<u16>() {
                Ok(months) => from_months = months,
                Err(_) => wrong("completed months"),
            },
            ("from_months", _) => wrong("completed months"),
            _ => {
                let at = span(key);
                let mut message =
                    Diagnostic::new(Code::WorkspaceUnknownKey, at, format!("{} is no part of a rule", quote(name)));
                message = match did_you_mean(name, KEYS) {
                    Some(near) => message.help(format!("did you mean `{near}`?")).fix(at, near),
                    None => message.help(PATTERN),
                };
                sink.push(message);
                sound = false;
            }
        }
    }
    if !sound {
        return None;
    }
    if off == severity.is_some() {
        sink.push(
            Diagnostic::new(
                Code::WorkspaceUnknownKey,
                place,
                format!("`{}` wants either a `severity` or `off = true`", code.name()),
            )
            .help(PATTERN),
        );
        return None;
    }
    let Some(reason) = reason else {
        sink.push(
            Diagnostic::new(Code::WorkspaceRuleKept, place, format!("`{}` is changed without a reason", code.name()))
                .help("add `reason = \"…\"`; the card prints it for those who must answer for it"),
        );
        return None;
    };
    Some(Change { code, to: severity, reason, from_months })
}

/// Keeps the changes that may be made under a guidance profile.
pub fn allowed(lines: &[RuleLine], profile: &Profile, sink: &mut Sink) -> RuleBook {
    let mut changes = Vec::new();
    for line in lines {
        let change = &line.value;
        let name = change.code.name();
        let what = if change.to.is_none() { "switched off" } else { "lowered" };
        if !change.code.is_rule() {
            sink.push(
                Diagnostic::new(
                    Code::WorkspaceRuleKept,
                    line.span,
                    format!("`{name}` is a fault and no rule: it cannot be changed"),
                )
                .help("remove the line and mend the file where the message stands"),
            );
            continue;
        }
        let locked = profile
            .file
            .locked
            .iter()
            .find(|row| row.code == name && change.is_lenient() && change.from_months < row.below_months);
        if let Some(row) = locked {
            let last = profile.bands().last().map_or(23, |band| band.to_months);
            sink.push(
                Diagnostic::new(
                    Code::WorkspaceRuleKept,
                    line.span,
                    format!("`{name}` cannot be {what} below {} months", row.below_months),
                )
                .help(if row.below_months <= last {
                    format!(
                        "{}; write `from_months = {}` beside the reason, or remove the line",
                        row.reason, row.below_months
                    )
                } else {
                    format!("{}: remove the line", row.reason)
                }),
            );
            continue;
        }
        changes.push(change.clone());
    }
    RuleBook { changes }
}
