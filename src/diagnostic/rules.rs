//! What a workspace changes in the rules: a severity, or silence, each with a
//! reason. Applied once, to the finished messages of a file, so that no rule
//! knows of it.

use serde::Serialize;

use super::{Code, Diagnostic, Severity};

/// One line of `[rules]`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    pub code: Code,
    /// The new severity; `None` is off.
    pub to: Option<Severity>,
    /// The author's words; never empty.
    pub reason: String,
    /// It holds for documents whose youngest child has this age, completed
    /// months; 0 for all.
    pub from_months: u16,
}

impl Change {
    /// Whether the rule says less than it would by itself.
    pub fn is_lenient(&self) -> bool {
        self.to.is_none_or(|to| to < self.code.severity())
    }
}

/// A change that met messages in one document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Changed {
    /// `family/slug`
    pub code: &'static str,
    /// `off`, `note`, `warning` or `error`.
    pub to: &'static str,
    /// What it would have been.
    pub from: &'static str,
    pub reason: String,
    /// What the rule has to say of this document all the same.
    pub messages: Vec<String>,
    /// The rule says less than it would by itself.
    pub lenient: bool,
}

/// The changes of a workspace.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct RuleBook {
    pub changes: Vec<Change>,
}

impl RuleBook {
    /// Applies the changes to the messages of a document whose youngest child
    /// has `months`. A message that its rule made graver than its code keeps
    /// its severity and is never silenced.
    pub fn apply(&self, diagnostics: &mut Vec<Diagnostic>, months: u16, changed: &mut Vec<Changed>) {
        if self.changes.is_empty() {
            return;
        }
        diagnostics.retain_mut(|diagnostic| {
            let change =
                self.changes.iter().find(|change| change.code == diagnostic.code && months >= change.from_months);
            let Some(change) = change.filter(|_| diagnostic.severity <= diagnostic.code.severity()) else {
                return true;
            };
            let code = diagnostic.code.name();
            let met = match changed.iter_mut().find(|met| met.code == code) {
                Some(met) => Some(met),
                None => {
                    changed.push(Changed {
                        code,
                        to: change.to.map_or("off", Severity::word),
                        from: diagnostic.code.severity().word(),
                        reason: change.reason.clone(),
                        messages: Vec::new(),
                        lenient: change.is_lenient(),
                    });
                    changed.last_mut()
                }
            };
            if let Some(met) = met {
                met.messages.push(diagnostic.message.clone());
            }
            if let Some(severity) = change.to {
                diagnostic.severity = severity;
            }
            change.to.is_some()
        });
    }
}

/// Adds the changes that met a dish inside another, its title before what the
/// rules have to say of it.
pub fn join(changed: &mut Vec<Changed>, inner: &[Changed], title: &str) {
    for met in inner {
        let messages = met.messages.iter().map(|message| format!("{title}: {message}"));
        match changed.iter_mut().find(|own| own.code == met.code && own.to == met.to) {
            Some(own) => own.messages.extend(messages),
            None => changed.push(Changed { messages: messages.collect(), ..met.clone() }),
        }
    }
}

impl Code {
    /// Whether a workspace may change it at all: a rule is a judgement of
    /// what was understood. A fault of a file, of its figures or of a claim
    /// is none: the card would be wrong.
    pub fn is_rule(self) -> bool {
        match self.family() {
            "workspace" => false,
            "safety" | "age" => true,
            _ => self.severity() < Severity::Error,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::source::Span;

    fn book(to: Option<Severity>, from_months: u16) -> RuleBook {
        RuleBook { changes: vec![Change { code: Code::SafetyAddedSalt, to, reason: "why".into(), from_months }] }
    }

    fn salt() -> Diagnostic {
        Diagnostic::new(Code::SafetyAddedSalt, Span::default(), "`salt` puts salt in")
    }

    #[test]
    fn a_change_is_applied_and_told() {
        let other = Diagnostic::new(Code::AgeOverADay, Span::default(), "too much");
        let (mut found, mut changed) = (vec![salt(), other.clone()], Vec::new());
        book(None, 0).apply(&mut found, 6, &mut changed);
        assert_eq!(found, [other]);
        let met = changed.first().unwrap();
        assert_eq!((met.code, met.to, met.from), ("safety/added-salt", "off", "warning"));
        assert_eq!(met.messages, ["`salt` puts salt in"]);
        assert!(met.lenient);
        let (mut found, mut changed) = (vec![salt()], Vec::new());
        book(Some(Severity::Error), 0).apply(&mut found, 6, &mut changed);
        assert_eq!(found.first().unwrap().severity, Severity::Error);
        assert!(!changed.first().unwrap().lenient);
    }

    #[test]
    fn age_and_gravity_hold_a_change_back() {
        let (mut found, mut changed) = (vec![salt()], Vec::new());
        book(None, 12).apply(&mut found, 9, &mut changed);
        assert_eq!((found.len(), changed.len()), (1, 0));
        let mut grave = salt();
        grave.severity = Severity::Error;
        let mut found = vec![grave];
        book(None, 0).apply(&mut found, 9, &mut changed);
        assert_eq!((found.len(), changed.len()), (1, 0));
    }

    #[test]
    fn faults_are_no_rules() {
        for (name, rule) in [
            ("safety/honey-under-12-months", true),
            ("age/over-a-day", true),
            ("yield/estimated", true),
            ("syntax/bad-line", false),
            ("claim/not-met", false),
            ("workspace/unknown-key", false),
        ] {
            assert_eq!(Code::from_name(name).unwrap().is_rule(), rule, "{name}");
        }
    }
}
