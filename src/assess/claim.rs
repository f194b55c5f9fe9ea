//! `claim/not-met`, `claim/met-only-by-some-alternatives`,
//! `claim/upper-limit-reached` and `claim/unknown-value`: a claim must hold in
//! every age band and for every alternative, or the card is not made.

pub mod standing;

use super::{Case, Others, called};
use crate::ast::{self, ClaimKind};
use crate::compute::{Computed, spread};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::quantity::round_half_even;
use crate::reference::Reference;
use crate::reference::nutrient::NutrientId;
use crate::reference::profile::data::LimitWord;
use standing::{About, Standing, passed, standings};

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

pub(super) fn check(case: &Case<'_>, others: &Others, sink: &mut Sink) -> Vec<Proof> {
    case.dish.ast.claims.iter().filter_map(|claim| one(case, claim, others, sink)).collect()
}

/// The nutrients that the dish says it is a source of or rich in.
pub fn claimed(case: &Case<'_>) -> Vec<NutrientId> {
    let claims = &case.dish.ast.claims;
    let found = claims.iter().filter_map(|claim| about(claim, case.reference).ok());
    found.filter(|about| about.limit.is_none()).map(|about| about.id).collect()
}

/// What failed: code, sentence, what would help.
type Failure = (Code, String, String);

/// What an author's claim is about, or a message why nothing can be proven.
///
/// # Errors
/// The message.
pub fn about<'r>(claim: &ast::Claim, reference: &'r Reference) -> Result<About<'r>, Box<Diagnostic>> {
    let subject = claim.subject.value.to_lowercase();
    let claims = &reference.profile.file.claims;
    let named = |names: &[String]| names.iter().any(|name| name.eq_ignore_ascii_case(&subject));
    let refused = claims.not_claimable.iter().find(|entry| named(&entry.en)).map(|entry| entry.note.clone());
    let claimable = claims.claimable.iter().find(|entry| named(&entry.en));
    if matches!(claim.kind, ClaimKind::LowIn | ClaimKind::FreeOf) {
        let word = if claim.kind == ClaimKind::LowIn { LimitWord::Low } else { LimitWord::Free };
        let found = claims.limit.iter().find(|limit| limit.word == word && named(&limit.en));
        let Some(limit) = found else {
            let names: Vec<&str> = claims
                .limit
                .iter()
                .filter(|limit| limit.word == word && limit.fit_for_age)
                .flat_map(|limit| limit.en.iter().map(String::as_str))
                .collect();
            let other = claims.limit.iter().find(|limit| limit.word != word && limit.fit_for_age && named(&limit.en));
            let why = if let Some(other) = other {
                let word = if other.word == LimitWord::Free { "free of" } else { "low in" };
                Some(format!("the profile has a limit for `{word} {subject}` only"))
            } else if claimable.is_some() {
                Some(format!(
                    "a child needs {subject}: no limit makes little of it a merit; `{}` can be said of {}",
                    claim.kind.words(),
                    names.join(", ")
                ))
            } else {
                refused
            };
            return Err(Box::new(unknown_subject(claim, &subject, names.into_iter(), why)));
        };
        if !limit.fit_for_age {
            let words = format!("{} {subject}", claim.kind.words());
            return Err(Box::new(
                Diagnostic::new(
                    Code::ClaimNotMet,
                    claim.span,
                    format!("{} is no merit in food for a young child", quote(&words)),
                )
                .help("young children need energy and fat; remove the claim"),
            ));
        }
        return match NutrientId::from_tag(&limit.tag) {
            Some(id) => {
                let name = limit.en.first().map_or("", String::as_str);
                Ok(About { kind: claim.kind, id, name, limit: Some(limit) })
            }
            None => Err(Box::new(unknown_subject(claim, &subject, std::iter::empty(), None))),
        };
    }
    let names = || claims.claimable.iter().flat_map(|entry| &entry.en).map(String::as_str);
    let Some(entry) = claimable else {
        return Err(Box::new(unknown_subject(claim, &subject, names(), refused)));
    };
    match NutrientId::from_tag(&entry.tag) {
        Some(id) => Ok(About { kind: claim.kind, id, name: entry.en.first().map_or("", String::as_str), limit: None }),
        None => Err(Box::new(unknown_subject(claim, &subject, names(), None))),
    }
}

fn one(case: &Case<'_>, claim: &ast::Claim, others: &Others, sink: &mut Sink) -> Option<Proof> {
    let about = match about(claim, case.reference) {
        Ok(about) => about,
        Err(message) => {
            sink.push(*message);
            return None;
        }
    };
    // A fault in the weights has its own message; the claim would only repeat it.
    if !case.weights_known() {
        return None;
    }
    let bands = match judge(case, &about, case.computed) {
        Ok(bands) => bands,
        Err((code, message, help)) => {
            sink.push(Diagnostic::new(code, claim.span, message).help(help));
            return None;
        }
    };
    let words = format!("{} {}", about.kind.words(), about.name);
    let mut over = over_limit(case, &about, case.computed, None);
    for (at, option) in case.dish.alternatives() {
        let Some(choice) = case.dish.ingredients.get(at).and_then(|line| line.options.get(option)) else { continue };
        let computed = others.get(case, at, option);
        match judge(case, &about, &computed) {
            Ok(_) => {
                let name = called(choice);
                over = over.or_else(|| over_limit(case, &about, &computed, Some(&name)));
            }
            Err((Code::ClaimNotMet, message, help)) => {
                sink.push(
                    Diagnostic::new(
                        Code::ClaimMetOnlyBySomeAlternatives,
                        claim.span,
                        format!("with {} this dish is not {}", called(choice), quote(&words)),
                    )
                    .label(choice.option.span, message)
                    .help(format!("with the first food of the line it holds; with this one {help}")),
                );
                return None;
            }
            Err((code, message, help)) => {
                sink.push(
                    Diagnostic::new(code, claim.span, message)
                        .label(choice.option.span, format!("with {} the claim does not hold", called(choice)))
                        .help(format!("it holds with the first food of the line only; {help}")),
                );
                return None;
            }
        }
    }
    if let Some(message) = worst_together(case, &about, &words, claim) {
        sink.push(message);
        return None;
    }
    if let Some((message, help)) = over {
        sink.push(Diagnostic::new(Code::ClaimUpperLimitReached, claim.span, message).help(help));
        return None;
    }
    Some(Proof { kind: about.kind, subject: about.name.to_owned(), tag: about.id.get().tag.to_owned(), bands })
}

/// Each alternative alone may do, and the weakest of two lines together not.
fn worst_together(case: &Case<'_>, about: &About<'_>, words: &str, claim: &ast::Claim) -> Option<Diagnostic> {
    if about.limit.is_some() {
        return None;
    }
    let weakest = spread::weakest(case.dish, case.computed, about.id)?;
    let standings = standings(case.reference, about, case.computed);
    let weak = standings.iter().enumerate().find_map(|(at, standing)| {
        // Dust of the summation is no shortfall.
        const DUST: f64 = 1e-9;
        let (threshold, low) = (standing.threshold?, weakest.get(at).copied().flatten()?);
        (low < threshold * (1.0 - DUST)).then_some((standing, low, threshold))
    });
    let (standing, low, threshold) = weak?;
    let unit = about.id.get().unit;
    Some(
        Diagnostic::new(
            Code::ClaimMetOnlyBySomeAlternatives,
            claim.span,
            format!("with the weakest food of every line this dish is not {}", quote(words)),
        )
        .help(format!(
            "a portion for {} months then has {} {unit}, {} {unit} are needed; see `porringer nutrients --alternatives`",
            standing.band.map_or("", |band| band.key.as_str()),
            show(low, about.id),
            show(threshold, about.id)
        )),
    )
}

/// Message and help where a portion passes the upper limit of what is claimed.
fn over_limit(case: &Case<'_>, about: &About<'_>, computed: &Computed, with: Option<&str>) -> Option<(String, String)> {
    if about.limit.is_some() {
        return None;
    }
    let passed = passed(case.reference, about.id, computed)?;
    let unit = passed.id.get().unit;
    let what = passed.id.get().name.to_lowercase();
    Some((
        format!(
            "a portion for {} months has {} {unit} {what}; a day's limit is {}",
            passed.band.key,
            show(passed.amount, passed.id),
            passed.limit.value
        ),
        format!(
            "{}the dish is no merit by what it has too much of: remove the claim and make the portion smaller",
            with.map_or(String::new(), |name| format!("with {name}; "))
        ),
    ))
}

fn judge(case: &Case<'_>, about: &About<'_>, computed: &Computed) -> Result<Vec<ProvenBand>, Failure> {
    let (id, name) = (about.id, about.name);
    let unit = id.get().unit;
    let mut bands = Vec::new();
    for standing in standings(case.reference, about, computed) {
        let Standing { band, value, threshold, complete, share, .. } = standing;
        let Some(band) = band else {
            let Some(threshold) = threshold else {
                return Err((
                    Code::ClaimUnknownValue,
                    format!("there is no limit of {name} for solid food"),
                    "remove the claim".to_owned(),
                ));
            };
            let most = value.unwrap_or(0.0);
            if !complete {
                return Err((
                    Code::ClaimUnknownValue,
                    format!("nobody knows all the {name} in this dish, so no limit can be proven"),
                    format!("it is not known for {}", lacking(case, id)),
                ));
            }
            if most > threshold {
                let words = about.kind.words();
                return Err((
                    Code::ClaimNotMet,
                    format!("100 g have {} {unit} {name}; {words} says at most {threshold}", show(most, id)),
                    "remove the claim, or the food that brings it".to_owned(),
                ));
            }
            bands.push(ProvenBand { band: String::new(), value: most, threshold, per_100g: true, at_least: false });
            continue;
        };
        let Some((need, threshold)) = standing.intake.and_then(|intake| intake.value).zip(threshold) else {
            return Err((
                Code::ClaimUnknownValue,
                format!("no reference intake of {name} is set for {} months", band.key),
                "remove the claim, or narrow the ages of the dish".to_owned(),
            ));
        };
        let Some(value) = value else {
            return Err((
                Code::ClaimUnknownValue,
                format!("the portion for {} months has no known weight", band.key),
                "say what the dish makes, such as `makes 3 cups`".to_owned(),
            ));
        };
        if value < threshold {
            let percent = format!("{} %", round_half_even(value / need * 100.0, 0));
            let wanted = format!("{} %", round_half_even(share * 100.0, 0));
            if !complete {
                return Err((
                    Code::ClaimUnknownValue,
                    format!("known {name} covers {percent} of the need at {} months, not {wanted}", band.key),
                    format!("nobody knows the {name} of {}", lacking(case, id)),
                ));
            }
            return Err((
                Code::ClaimNotMet,
                format!("a portion has {percent} of the {name} needed at {} months, not {wanted}", band.key),
                format!(
                    "it has {} {unit}, {} {unit} are needed; add a food that brings {name}, or remove the claim",
                    show(value, id),
                    show(threshold, id)
                ),
            ));
        }
        bands.push(ProvenBand { band: band.key.clone(), value, threshold, per_100g: false, at_least: !complete });
    }
    Ok(bands)
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

pub fn show(value: f64, id: NutrientId) -> String {
    format!("{}", round_half_even(value, id.get().decimals.max(1)))
}

fn unknown_subject<'n>(
    claim: &ast::Claim,
    subject: &str,
    names: impl Iterator<Item = &'n str>,
    why: Option<String>,
) -> Diagnostic {
    let names: Vec<&str> = names.collect();
    let message = Diagnostic::new(
        Code::ClaimUnknownValue,
        claim.subject.span,
        format!("no claim can be proven about {}", quote(subject)),
    );
    match (why, did_you_mean(subject, names.iter().copied())) {
        (Some(note), _) => message.help(note),
        (None, Some(near)) => message.help(format!("did you mean `{near}`?")).fix(claim.subject.span, near),
        (None, None) => message.help(format!("claims can be made about: {}", names.join(", "))),
    }
}
