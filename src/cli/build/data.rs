//! Figures and cards as data.

use super::outputs::{Outputs, file_name};
use super::sheets::{Job, Sheet};
use super::why::DATA;
use crate::check::Checked;
use crate::cli::{menu, nutrients};
use crate::graph::{Content, Needs};
use crate::workspace::Workspace;

/// Writes one JSON file for each document that has cards.
pub fn write(jobs: &[Job], checked: &[Checked], workspace: &Workspace, outputs: &mut Outputs) {
    for jobs in jobs.chunk_by(|one, next| one.file == next.file) {
        let Some(file) = jobs.first().and_then(|job| checked.get(job.file)) else { continue };
        let (figures, id) = match (&file.dish, &file.menu) {
            (Some(dish), _) => (nutrients::object(dish, workspace), &dish.id),
            (None, Some(menu)) => (menu::nutrients::object(menu, workspace), &menu.id),
            (None, None) => continue,
        };
        let cards: Vec<serde_json::Value> = jobs
            .iter()
            .filter_map(|job| match &job.sheet {
                Sheet::Card(card) => serde_json::to_value(card).ok(),
                Sheet::Menu(card) => serde_json::to_value(card).ok(),
            })
            .collect();
        let object = serde_json::json!({ "figures": figures, "cards": cards });
        let mut text = serde_json::to_string_pretty(&object).unwrap_or_default();
        text.push('\n');
        let target = format!("{}.json", file_name(id));
        // What it rests on is what its first card rests on.
        let first = jobs.first().map(|job| &job.needs);
        let mut needs = Needs::of(DATA, Content::of(&text));
        if let Some(first) = first {
            needs = needs.all_told(first.inputs().into_iter().filter(|(word, _)| *word != DATA).map(owned));
            needs = first.standing().into_iter().fold(needs, Needs::under);
        }
        if outputs.wants(&target, &needs) {
            outputs.put(&target, &needs, &[(target.clone(), text.as_bytes())]);
        }
    }
}

fn owned((word, content): (&str, Content)) -> (String, Content) {
    (word.to_owned(), content)
}
