//! `porringer claims`

use std::fmt::Write;
use std::path::PathBuf;

use serde_json::{Value, json};

use crate::assess::claim::standing::{About, Passed, Standing, claimable, passed, share_row, standings};
use crate::assess::claim::{about, show};
use crate::assess::closing::{Addition, additions, limits, proposed};
use crate::check::CheckedDish;
use crate::cli::month::month;
use crate::cli::nutrients::{columns, number};
use crate::cli::trace::status;
use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, say, say_plain};
use crate::compute::closing::{Bound, Closer, Helping, Order, closers};
use crate::compute::cost::Purse;
use crate::compute::{Computed, Selection, compute};
use crate::quantity::round_half_even;
use crate::reference::Reference;
use crate::reference::measure::{HouseholdMeasure, volume};
use crate::reference::season;
use crate::workspace::Workspace;

/// Name and version of the JSON object.
pub const SCHEMA: &str = "porringer-claims/1";

/// Foods that are listed for one gap.
const MOST: usize = 6;

/// More than this share of the dish is another dish. Common practice, no
/// source.
const MOST_ADDED: f64 = 0.5;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The dish file.
    dish: PathBuf,
    /// What is least first among foods that would close a gap.
    #[arg(long, value_enum, default_value = "weight")]
    by: By,
    /// Month in which those foods must be to be had; default: every month of
    /// the dish's `season` line.
    #[arg(long, value_name = "MONTH")]
    season: Option<String>,
    /// How the proof is printed.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
    /// A further composition table, as for `check`.
    #[arg(long, value_name = "FILE.csv")]
    foods: Vec<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For a person.
    Human,
    /// One object, unrounded.
    Json,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum By {
    /// Grams to add.
    #[default]
    Weight,
    /// By the workspace's price list.
    Cost,
}

/// What decides which foods close a gap.
#[derive(Clone, Copy, Default)]
struct Search<'a> {
    by: By,
    purse: Option<Purse<'a>>,
    month: Option<u8>,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let input = Input { paths: vec![arguments.dish.clone()], foods: arguments.foods.clone() };
    let mut workspace = gather::workspace(&input)?;
    let prices = workspace.prices();
    let search = Search {
        by: arguments.by,
        purse: Purse::new(&prices, &workspace.reference.larder)
            .map(|purse| purse.on(workspace.reference.practice.today)),
        month: arguments.season.as_deref().map(month).transpose()?,
    };
    if search.by == By::Cost && search.purse.is_none() {
        return Err(Failure("`--by cost` wants a price list: `prices = \"prices.csv\"` in porringer.toml".to_owned()));
    }
    let paths = gather::files(&input, &workspace)?;
    let checked = gather::all(&paths, &workspace);
    let mut failed = gather::complain_of(&workspace);
    let mut out = String::new();
    for file in &checked {
        let Some(dish) = &file.dish else {
            return Err(Failure(format!("`{}` is no dish", file.source.name)));
        };
        if !is_known(dish) {
            complain(&format!("{}: some food or weight is not known; see `porringer check`", file.source.name));
            return Ok(ERRORS);
        }
        let proof = Proof::new(dish, &workspace, search);
        failed |= proof.claims.iter().any(|claim| !claim.holds());
        match arguments.format {
            Format::Human => proof.human(&mut out),
            Format::Json => {
                let _ = writeln!(out, "{}", proof.object());
            }
        }
    }
    match arguments.format {
        Format::Human => say_plain(&out),
        Format::Json => say(&out),
    }
    Ok(if failed { ERRORS } else { CLEAN })
}

/// The proof of one claim of a dish, as it is printed, by its place among the
/// dish's claims.
pub fn told(dish: &CheckedDish, workspace: &Workspace, claim: usize) -> Option<String> {
    if !is_known(dish) {
        return None;
    }
    let proof = Proof::new(dish, workspace, Search::default());
    let mut out = String::new();
    proof.human_claim(proof.claims.get(claim)?, &mut out);
    Some(out)
}

/// What else could be claimed, with the share of the need at the weakest.
pub fn also(dish: &CheckedDish, workspace: &Workspace) -> Vec<(String, String)> {
    if !is_known(dish) {
        return Vec::new();
    }
    let proof = Proof::new(dish, workspace, Search::default());
    let words = |about: &About<'_>| format!("{} {}", about.kind.words(), about.name);
    proof.also.iter().map(|about| (words(about), proof.weakest(about).trim_start_matches(": ").to_owned())).collect()
}

/// Every food and weight is known, so that claims can be judged.
fn is_known(dish: &CheckedDish) -> bool {
    dish.computed.nutrition.uncounted.is_empty() && dish.computed.nutrition.cooked_g > 0.0
}

/// The first foods, or one alternative.
struct Variant {
    /// `None` for the first food of every line.
    with: Option<String>,
    computed: Computed,
}

/// One claim of the author.
struct Claim<'a> {
    words: String,
    about: Option<About<'a>>,
    /// Why it is about nothing that can be proven.
    refused: Option<String>,
    /// One list a variant, in their order.
    standings: Vec<Vec<Standing<'a>>>,
    passed: Option<Passed<'a>>,
    closers: Vec<Closer>,
    /// The same of foods that are not to be had in every month asked for.
    out_of_season: Vec<Closer>,
}

impl Claim<'_> {
    fn holds(&self) -> bool {
        self.about.is_some() && self.passed.is_none() && self.standings.iter().flatten().all(Standing::holds)
    }
}

struct Proof<'a> {
    dish: &'a CheckedDish,
    reference: &'a Reference,
    variants: Vec<Variant>,
    claims: Vec<Claim<'a>>,
    /// What else holds in every band and with every alternative.
    also: Vec<About<'a>>,
    additions: Vec<Addition>,
    search: Search<'a>,
}

impl<'a> Proof<'a> {
    fn new(dish: &'a CheckedDish, workspace: &'a Workspace, search: Search<'a>) -> Self {
        let reference = &workspace.reference;
        let resolved = &dish.resolved;
        let mut variants = vec![Variant { with: None, computed: dish.computed.clone() }];
        for (at, option) in resolved.alternatives() {
            let computed = compute(resolved, reference, &Selection::with(resolved, at, option));
            variants.push(Variant { with: resolved.option_name(at, option), computed });
        }
        let diets: Vec<String> = resolved.ast.diets.iter().map(|diet| diet.value.clone()).collect();
        let additions = additions(reference, &diets);
        let mut proof = Self { dish, reference, variants, claims: Vec::new(), also: Vec::new(), additions, search };
        for claim in &resolved.ast.claims {
            let words = format!("{} {}", claim.kind.words(), claim.subject.value);
            proof.claims.push(match about(claim, reference) {
                Ok(about) => proof.claim(words, about),
                Err(message) => Claim {
                    words,
                    about: None,
                    refused: Some(match &message.help {
                        Some(help) => format!("{}; {help}", message.message),
                        None => message.message.clone(),
                    }),
                    standings: Vec::new(),
                    passed: None,
                    closers: Vec::new(),
                    out_of_season: Vec::new(),
                },
            });
        }
        for about in claimable(reference) {
            let same = |other: &About<'_>| other.id == about.id;
            let claimed = proof.claims.iter().any(|claim| {
                claim.holds()
                    && claim.about.as_ref().is_some_and(|own| same(own) && (own.kind == about.kind || weaker(&about)))
            });
            // "Rich in" says "source of" too.
            if claimed || proof.also.iter().any(same) {
                continue;
            }
            let holds = proof.variants.iter().all(|variant| {
                let standings = standings(reference, &about, &variant.computed);
                !standings.is_empty() && standings.iter().all(Standing::holds)
            });
            if holds && proof.passed(&about).is_none() {
                proof.also.push(about);
            }
        }
        proof
    }

    fn passed(&self, about: &About<'a>) -> Option<Passed<'a>> {
        if about.limit.is_some() {
            return None;
        }
        self.variants.iter().find_map(|variant| passed(self.reference, about.id, &variant.computed))
    }

    fn claim(&self, words: String, about: About<'a>) -> Claim<'a> {
        let all: Vec<Vec<Standing<'a>>> =
            self.variants.iter().map(|variant| standings(self.reference, &about, &variant.computed)).collect();
        let passed = self.passed(&about);
        let (closers, out_of_season) = if about.limit.is_none() && !all.iter().flatten().all(Standing::holds) {
            self.closers(&about, &all)
        } else {
            Default::default()
        };
        Claim { words, about: Some(about), refused: None, standings: all, passed, closers, out_of_season }
    }

    /// Foods that make the claim hold in every band and with every alternative.
    fn closers(&self, about: &About<'a>, all: &[Vec<Standing<'a>>]) -> (Vec<Closer>, Vec<Closer>) {
        let mut needs = Vec::new();
        let mut bounds = Vec::new();
        for (variant, standings) in self.variants.iter().zip(all) {
            let nutrition = &variant.computed.nutrition;
            for standing in standings {
                // Without a reference intake or a portion nothing closes it.
                let (Some(figure), Some(helping_g)) = (standing.threshold, standing.grams) else {
                    return Default::default();
                };
                let has = nutrition.figure(about.id).value;
                needs.push(Bound { id: about.id, figure, has, pot_g: nutrition.cooked_g, helping_g });
            }
            bounds.extend(limits(self.reference, &variant.computed));
        }
        let months = self.months();
        let candidates: Vec<_> = self
            .additions
            .iter()
            .map(|addition| {
                let cost = self.search.purse.and_then(|purse| purse.per_gram(&addition.food));
                addition.candidate(cost, self.reference, &months)
            })
            .collect();
        let most = self.dish.computed.nutrition.cooked_g * MOST_ADDED;
        let order = match self.search.by {
            By::Weight => Order::Weight,
            By::Cost => Order::Cost,
        };
        let found = closers(&needs, &bounds, &candidates, Helping::Unchanged, most, order);
        proposed(found, &self.additions, MOST)
    }

    /// Months for which what is added must be there.
    fn months(&self) -> Vec<u8> {
        let own = self.dish.resolved.ast.header.season.as_ref().map(|season| season.value.clone());
        self.search.month.map(|month| vec![month]).or(own).unwrap_or_default()
    }

    fn tablespoon_ml(&self) -> f64 {
        volume(self.reference.standard, HouseholdMeasure::Tablespoon)
            .map_or(0.0, |volume| volume.ml.0 as f64 / volume.ml.1 as f64)
    }

    /// Allergens that the dish has not got without the addition.
    fn brings<'s>(&'s self, addition: &'s Addition) -> Vec<&'s str> {
        addition
            .row
            .allergens
            .iter()
            .filter(|id| !self.dish.report.allergens.contains(id))
            .map(|id| {
                let listed = self.reference.profile.file.allergen.iter().find(|allergen| &allergen.id == id);
                listed.map_or(id.as_str(), |allergen| allergen.en.as_str())
            })
            .collect()
    }

    fn human(&self, out: &mut String) {
        let cooked = &self.dish.computed.cooked;
        let about = if cooked.estimated { "about " } else { "" };
        let _ =
            writeln!(out, "{}: {about}{} g cooked\n", self.dish.resolved.title(), round_half_even(cooked.cooked_g, 0));
        if self.claims.is_empty() {
            out.push_str("the dish makes no claim\n\n");
        }
        for claim in &self.claims {
            self.human_claim(claim, out);
        }
        if self.also.is_empty() {
            out.push_str("nothing else could be claimed\n\n");
            return;
        }
        out.push_str("could be claimed too, for every age and with every alternative\n");
        for about in &self.also {
            let _ = writeln!(out, "    {} {}{}", about.kind.words(), about.name, self.weakest(about));
        }
        out.push('\n');
    }

    /// Share of the need at the weakest, for the list of what else holds.
    fn weakest(&self, about: &About<'a>) -> String {
        if about.limit.is_some() {
            return String::new();
        }
        let least = self
            .variants
            .iter()
            .flat_map(|variant| standings(self.reference, about, &variant.computed))
            .filter_map(|standing| Some(standing.value? / standing.intake?.value?))
            .fold(f64::INFINITY, f64::min);
        format!(": at least {} % of the need", round_half_even(least * 100.0, 0))
    }

    fn human_claim(&self, claim: &Claim<'a>, out: &mut String) {
        let verdict = if claim.holds() { "holds" } else { "does not hold" };
        let _ = writeln!(out, "{}: {verdict}", claim.words);
        if let Some(refused) = &claim.refused {
            let _ = writeln!(out, "    {refused}\n");
            return;
        }
        let Some(about) = &claim.about else { return };
        let unit = about.id.get().unit;
        let mut sources: Vec<String> = Vec::new();
        let mut rows = Vec::new();
        for (variant, standings) in self.variants.iter().zip(&claim.standings) {
            for standing in standings {
                let with = match &variant.with {
                    Some(name) => format!("with {name}"),
                    None if self.variants.len() > 1 => "first foods".to_owned(),
                    None => String::new(),
                };
                let bound = if standing.complete { "" } else { "at least " };
                let value = standing
                    .value
                    .map_or("not known".to_owned(), |value| format!("{bound}{} {unit}", show(value, about.id)));
                let basis = match (standing.band, standing.grams) {
                    (None, _) => "100 g".to_owned(),
                    (Some(_), Some(grams)) => format!("portion {} g", round_half_even(grams, 0)),
                    (Some(_), None) => "portion of no known weight".to_owned(),
                };
                let wanted = match (standing.threshold, standing.intake.and_then(|intake| intake.value)) {
                    (None, _) => "no reference intake is set".to_owned(),
                    (Some(most), None) => format!("at most {most} {unit}"),
                    (Some(least), Some(need)) => format!(
                        "{} {unit} = {} % of {need} {unit}",
                        show(least, about.id),
                        round_half_even(standing.share * 100.0, 0)
                    ),
                };
                let verdict = if standing.holds() {
                    "holds".to_owned()
                } else {
                    match standing.gap() {
                        Some(gap) if gap > 0.0 => {
                            let side = if standing.band.is_some() { "short of it" } else { "over it" };
                            format!("{} {unit} {side}", show(gap, about.id))
                        }
                        _ => "cannot be proven".to_owned(),
                    }
                };
                rows.push(vec![
                    format!("    {}", standing.band.map_or("dish", |band| band.key.as_str())),
                    with,
                    basis,
                    value,
                    wanted,
                    verdict,
                ]);
                if let (Some(intake), Some(band)) = (standing.intake, standing.band) {
                    let line = format!("need at {}: {} ({})", band.key, intake.source, status(intake.status));
                    if !sources.contains(&line) {
                        sources.push(line);
                    }
                }
            }
        }
        columns(&rows, out);
        match about.limit {
            Some(limit) => sources.push(format!("limit: {} ({})", limit.source, status(limit.status))),
            None => {
                if let Some(row) = share_row(self.reference, about.id) {
                    sources.push(format!("share: {} ({})", row.source, status(row.status)));
                }
            }
        }
        for source in sources {
            let _ = writeln!(out, "    {source}");
        }
        if let Some(passed) = claim.passed {
            let _ = writeln!(
                out,
                "    but a portion for {} months has {} {} {}, and a day's limit is {} ({}, {})",
                passed.band.key,
                show(passed.amount, passed.id),
                passed.id.get().unit,
                passed.id.get().name.to_lowercase(),
                passed.limit.value,
                passed.limit.source,
                status(passed.limit.status)
            );
        }
        if !claim.holds() && about.limit.is_none() && claim.passed.is_none() {
            self.human_closers(claim, out);
        }
        out.push('\n');
    }

    fn human_closers(&self, claim: &Claim<'a>, out: &mut String) {
        if claim.closers.is_empty() {
            let _ = writeln!(
                out,
                "    no single food that may be proposed closes this with at most {} % of the dish added",
                MOST_ADDED * 100.0
            );
            self.human_later(claim, out);
            return;
        }
        let first = match self.search.by {
            By::Weight => "least weight first",
            By::Cost => "least cost first, without a price last",
        };
        let _ = writeln!(out, "    would close it, {first}; added to the whole dish, the portion's weight unchanged");
        let mut rows = Vec::new();
        for closer in &claim.closers {
            let Some(addition) = self.additions.get(closer.candidate) else { continue };
            let brings = self.brings(addition);
            let spoons = addition
                .tablespoons(closer.grams, self.tablespoon_ml())
                .map_or(String::new(), |spoons| format!("{} tbsp", up(spoons)));
            rows.push(vec![
                format!("    {}", addition.row.full_name()),
                addition.way.words().to_owned(),
                format!("{} g", closer.grams.ceil()),
                spoons,
                self.cost(closer),
                if brings.is_empty() { String::new() } else { format!("brings {}", brings.join(", ")) },
            ]);
        }
        columns(&rows, out);
        self.human_later(claim, out);
    }

    /// What would close it in other months.
    fn human_later(&self, claim: &Claim<'a>, out: &mut String) {
        let later: Vec<String> = claim
            .out_of_season
            .iter()
            .filter_map(|closer| self.additions.get(closer.candidate))
            .map(|addition| {
                let months = self.reference.practice.seasons.months(&addition.row).unwrap_or(&[]);
                format!("{} ({})", addition.row.full_name(), season::words(months))
            })
            .collect();
        if !later.is_empty() {
            let _ = writeln!(out, "    not in {}: {}", season::words(&self.months()), later.join("; "));
        }
    }

    /// What so much of a food costs as bought; nothing without a price list.
    fn cost(&self, closer: &Closer) -> String {
        match (self.search.purse, closer.cost) {
            (Some(purse), Some(cost)) => {
                let addition = self.additions.get(closer.candidate);
                let old = addition.is_some_and(|addition| purse.is_old_of(&addition.row));
                format!("{cost:.2} {}{}", purse.currency, if old { " (old price)" } else { "" })
            }
            (Some(_), None) => "no price".to_owned(),
            (None, _) => String::new(),
        }
    }

    fn object(&self) -> Value {
        let claims: Vec<Value> = self.claims.iter().map(|claim| self.claim_object(claim)).collect();
        let also: Vec<Value> = self
            .also
            .iter()
            .map(|about| {
                json!({
                    "claim": format!("{} {}", about.kind.words(), about.name),
                    "tag": about.id.get().tag,
                })
            })
            .collect();
        json!({
            "schema": SCHEMA,
            "id": self.dish.id,
            "title": self.dish.resolved.title(),
            "cooked_g": number(Some(self.dish.computed.cooked.cooked_g)),
            "cooked_estimated": self.dish.computed.cooked.estimated,
            "claims": claims,
            "also": also,
        })
    }

    /// `{claim, tag, holds, refused, unit, standings:[{with, band, basis, grams,
    /// value, lower_bound, threshold, share, need, source, status, holds,
    /// gap}], upper_limit, closers:[{food, row, way, grams, helping, brings,
    /// cost, currency, in_season, months}], out_of_season:[the same]}`.
    fn claim_object(&self, claim: &Claim<'a>) -> Value {
        let mut standings = Vec::new();
        for (variant, list) in self.variants.iter().zip(&claim.standings) {
            for standing in list {
                standings.push(json!({
                    "with": variant.with,
                    "band": standing.band.map(|band| band.key.clone()),
                    "basis": if standing.band.is_some() { "portion" } else { "100 g" },
                    "grams": number(standing.grams),
                    "value": number(standing.value),
                    "lower_bound": !standing.complete,
                    "threshold": number(standing.threshold),
                    "share": number(standing.band.map(|_| standing.share)),
                    "need": number(standing.intake.and_then(|intake| intake.value)),
                    "source": standing.intake.map(|intake| intake.source.clone()),
                    "status": standing.intake.map(|intake| status(intake.status)),
                    "holds": standing.holds(),
                    "gap": number(standing.gap()),
                }));
            }
        }
        json!({
            "claim": claim.words,
            "tag": claim.about.map(|about| about.id.get().tag),
            "unit": claim.about.map(|about| about.id.get().unit),
            "holds": claim.holds(),
            "refused": claim.refused,
            "standings": standings,
            "upper_limit": claim.passed.map(|passed| json!({
                "band": passed.band.key,
                "tag": passed.id.get().tag,
                "amount": number(Some(passed.amount)),
                "limit": number(Some(passed.limit.value)),
                "source": passed.limit.source,
                "status": status(passed.limit.status),
            })),
            "closers": self.closer_objects(&claim.closers),
            "out_of_season": self.closer_objects(&claim.out_of_season),
        })
    }

    fn closer_objects(&self, closers: &[Closer]) -> Vec<Value> {
        let object = |closer: &Closer| {
            let addition = self.additions.get(closer.candidate)?;
            Some(json!({
                "food": addition.row.full_name(),
                "row": addition.row.row,
                "way": addition.way.words(),
                "grams": number(Some(closer.grams)),
                "helping": "unchanged",
                "brings": self.brings(addition),
                "cost": number(closer.cost),
                "currency": closer.cost.and(self.search.purse).map(|purse| purse.currency),
                "in_season": closer.in_season,
                "months": self.reference.practice.seasons.months(&addition.row),
            }))
        };
        closers.iter().filter_map(object).collect()
    }
}

/// A claim that a stronger one says already.
fn weaker(about: &About<'_>) -> bool {
    matches!(about.kind, crate::ast::ClaimKind::SourceOf | crate::ast::ClaimKind::LowIn)
}

/// Half spoons, never less than what is needed.
fn up(spoons: f64) -> String {
    let halves = (spoons * 2.0 - 1e-9).ceil().max(1.0);
    match (halves / 2.0).trunc() {
        whole if whole * 2.0 == halves => format!("{whole}"),
        0.0 => "1/2".to_owned(),
        whole => format!("{whole} 1/2"),
    }
}
