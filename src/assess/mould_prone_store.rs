//! `safety/mould-prone-store`: advice for a dish with groundnuts or maize that
//! says nothing on how they are kept.

use super::Case;
use crate::ast::RemarkKind;
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let header = &case.dish.ast.header;
    if header.remarks.iter().any(|remark| remark.kind == RemarkKind::Store) || case.tore("store") {
        return;
    }
    let prone = case
        .dish
        .ingredients
        .iter()
        .flat_map(|ingredient| &ingredient.options)
        // A paste comes in a jar; kernels, grain and flour are what grows damp.
        .find(|choice| {
            choice.food.as_ref().is_some_and(|food| food.has_hazard("mould-prone") && !food.has_hazard("nut-paste"))
        });
    if let Some(choice) = prone {
        sink.push(
            Diagnostic::new(
                Code::SafetyMouldProneStore,
                choice.option.span,
                format!("{} grows mould where it is kept damp", super::called(choice)),
            )
            .help("add `store Dry, closed and off the floor. Throw away what is mouldy or shrivelled.`"),
        );
    }
}
