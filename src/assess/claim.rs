//! `claim/not-met` and `claim/unknown-value`: a claim must hold in every age
//! band and for every alternative, or the card is not made.

use super::{Case, called};
use crate::ast::{self, ClaimKind};
use crate::compute::{Computed, Selection, compute};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::quantity::round_half_even;
use crate::reference::nutrient::NutrientId;
use crate::reference::profile::data::{ClaimLimit, LimitWord};

/// A claim that holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    pub kind: ClaimKind,
    /// Canonical English name of the nutrient.
    pub subject: String,
    pub tag: String,
    pub bands: Vec<ProvenBand>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct ProvenBand {
    pub band: String,
    /// Amount in the portion, or per 100 g for a limit.
    pub value: f64,
    /// What it is held against, in the same unit.
    pub threshold: f64,
    pub per_100g: bool,
    /// The value is a lower bound.
    pub at_least: bool,
}

pub fn check(case: &Case<'_>, sink: &mut Sink) -> Vec<Proof> {
    case.dish.ast.claims.iter().filter_map(|claim| one(case, claim, sink)).collect()
}

enum Outcome {
    Holds(Vec<ProvenBand>),
    /// What failed: code, sentence, what would help.
    Fails(Code, String, String),
}

fn one(case: &Case<'_>, claim: &ast::Claim, sink: &mut Sink) -> Option<Proof> {
    let subject = claim.subject.value.to_lowercase();
    let claims = &case.reference.profile.file.claims;
    let limited = matches!(claim.kind, ClaimKind::LowIn | ClaimKind::FreeOf);
    let words = format!("{} {}", claim.kind.words(), subject);
    let (tag, name, limit) = if limited {
        let word = if claim.kind == ClaimKind::LowIn { LimitWord::Low } else { LimitWord::Free };
        let found = claims
            .limit
            .iter()
            .find(|limit| limit.word == word && limit.en.iter().any(|name| name.eq_ignore_ascii_case(&subject)));
        let Some(limit) = found else {
            let names = claims.limit.iter().filter(|limit| limit.word == word).flat_map(|limit| &limit.en);
            unknown_subject(claim, &subject, names.map(String::as_str), None, sink);
            return None;
        };
        if !limit.fit_for_age {
            sink.push(
                Diagnostic::new(
                    Code::ClaimNotMet,
                    claim.span,
                    format!("{} is no merit in food for a young child", quote(&words)),
                )
                .help("young children need energy and fat; remove the claim"),
            );
            return None;
        }
        (limit.tag.clone(), limit.en.first().cloned().unwrap_or(subject.clone()), Some(limit))
    } else {
        let found =
            claims.claimable.iter().find(|entry| entry.en.iter().any(|name| name.eq_ignore_ascii_case(&subject)));
        let Some(entry) = found else {
            let refused = claims
                .not_claimable
                .iter()
                .find(|entry| entry.en.iter().any(|name| name.eq_ignore_ascii_case(&subject)));
            let names = claims.claimable.iter().flat_map(|entry| &entry.en).map(String::as_str);
            unknown_subject(claim, &subject, names, refused.map(|entry| entry.note.as_str()), sink);
            return None;
        };
        (entry.tag.clone(), entry.en.first().cloned().unwrap_or(subject.clone()), None)
    };
    let Some(id) = NutrientId::from_tag(&tag) else {
        unknown_subject(claim, &subject, std::iter::empty(), None, sink);
        return None;
    };
    // A fault in the weights has its own message; the claim would only repeat it.
    if !case.weights_known() {
        return None;
    }
    let outcome = judge(case, claim.kind, id, &name, limit, case.computed);
    let bands = match outcome {
        Outcome::Holds(bands) => bands,
        Outcome::Fails(code, message, help) => {
            sink.push(Diagnostic::new(code, claim.span, message).help(help));
            return None;
        }
    };
    for (at, ingredient) in case.dish.ingredients.iter().enumerate() {
        for (option, choice) in ingredient.options.iter().enumerate().skip(1) {
            let computed = compute(case.dish, case.reference, &Selection::with(case.dish, at, option));
            if let Outcome::Fails(code, message, help) = judge(case, claim.kind, id, &name, limit, &computed) {
                sink.push(
                    Diagnostic::new(code, claim.span, message)
                        .label(choice.option.span, format!("with {} the claim does not hold", called(choice)))
                        .help(format!("it holds with the first food of the line only; {help}")),
                );
                return None;
            }
        }
    }
    Some(Proof { kind: claim.kind, subject: name, tag, bands })
}

fn judge(
    case: &Case<'_>,
    kind: ClaimKind,
    id: NutrientId,
    name: &str,
    limit: Option<&ClaimLimit>,
    computed: &Computed,
) -> Outcome {
    let nutrition = &computed.nutrition;
    let unit = id.get().unit;
    let complete = nutrition.complete(id);
    if let Some(limit) = limit {
        // A limit may not rest on an incomplete figure.
        let most = nutrition.figure(id).before_heat * 100.0 / nutrition.cooked_g;
        let Some(threshold) = limit.max_per_100_g else {
            return Outcome::Fails(
                Code::ClaimUnknownValue,
                format!("there is no limit of {name} for solid food"),
                "remove the claim".to_owned(),
            );
        };
        if !complete {
            return Outcome::Fails(
                Code::ClaimUnknownValue,
                format!("nobody knows all the {name} in this dish, so no limit can be proven"),
                format!("it is not known for {}", lacking(case, id)),
            );
        }
        if most > threshold {
            return Outcome::Fails(
                Code::ClaimNotMet,
                format!("100 g have {} {unit} {name}; {} says at most {threshold}", show(most, id), kind.words()),
                "remove the claim, or the food that brings it".to_owned(),
            );
        }
        return Outcome::Holds(vec![ProvenBand {
            band: String::new(),
            value: most,
            threshold,
            per_100g: true,
            at_least: false,
        }]);
    }
    let claims = &case.reference.profile.file.claims;
    let share = claims
        .source_of
        .iter()
        .find(|row| row.tag.as_deref() == Some(id.get().tag))
        .or_else(|| claims.source_of.iter().find(|row| row.tag.is_none()))
        .map_or(0.15, |row| row.value);
    let share = if kind == ClaimKind::RichIn { share * claims.rich_in_factor.value } else { share };
    let mut bands = Vec::new();
    for portion in &computed.portions {
        let Some(band) = case.reference.profile.bands().get(portion.band) else {
            continue;
        };
        let need = case.reference.profile.intake(id.get().tag, &band.key).and_then(|intake| intake.value);
        let Some(need) = need else {
            return Outcome::Fails(
                Code::ClaimUnknownValue,
                format!("no reference intake of {name} is set for {} months", band.key),
                "remove the claim, or narrow the ages of the dish".to_owned(),
            );
        };
        let Some(grams) = portion.grams else {
            return Outcome::Fails(
                Code::ClaimUnknownValue,
                format!("the portion for {} months has no known weight", band.key),
                "say what the dish makes, such as `makes 3 cups`".to_owned(),
            );
        };
        let threshold = need * share;
        let value = nutrition.in_grams(id, grams).unwrap_or(0.0);
        if value < threshold {
            let percent = format!("{} %", round_half_even(value / need * 100.0, 0));
            let wanted = format!("{} %", round_half_even(share * 100.0, 0));
            if !complete {
                return Outcome::Fails(
                    Code::ClaimUnknownValue,
                    format!("known {name} covers {percent} of the need at {} months, not {wanted}", band.key),
                    format!("nobody knows the {name} of {}", lacking(case, id)),
                );
            }
            return Outcome::Fails(
                Code::ClaimNotMet,
                format!("a portion has {percent} of the {name} needed at {} months, not {wanted}", band.key),
                format!(
                    "it has {} {unit}, {} {unit} are needed; add a food that brings {name}, or remove the claim",
                    show(value, id),
                    show(threshold, id)
                ),
            );
        }
        bands.push(ProvenBand { band: band.key.clone(), value, threshold, per_100g: false, at_least: !complete });
    }
    Outcome::Holds(bands)
}

/// The ingredients whose value is not known.
fn lacking(case: &Case<'_>, id: NutrientId) -> String {
    let names: Vec<String> = case
        .dish
        .ingredients
        .iter()
        .filter(|ingredient| !ingredient.family)
        .filter(|ingredient| {
            ingredient
                .first()
                .and_then(|choice| choice.food.as_ref())
                .is_some_and(|food| crate::compute::nutrition::value_of(food, id).is_none())
        })
        .map(|ingredient| quote(&ingredient.name))
        .collect();
    names.join(", ")
}

fn show(value: f64, id: NutrientId) -> String {
    format!("{}", round_half_even(value, id.get().decimals.max(1)))
}

fn unknown_subject<'n>(
    claim: &ast::Claim,
    subject: &str,
    names: impl Iterator<Item = &'n str>,
    refused: Option<&str>,
    sink: &mut Sink,
) {
    let names: Vec<&str> = names.collect();
    let mut message = Diagnostic::new(
        Code::ClaimUnknownValue,
        claim.subject.span,
        format!("no claim can be proven about {}", quote(subject)),
    );
    message = match (refused, did_you_mean(subject, names.iter().copied())) {
        (Some(note), _) => message.help(note.to_owned()),
        (None, Some(near)) => message.help(format!("did you mean `{near}`?")).fix(claim.subject.span, near),
        (None, None) => message.help(format!("claims can be made about: {}", names.join(", "))),
    };
    sink.push(message);
}
