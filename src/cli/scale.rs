//! `porringer scale`

use std::fmt::Write;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::ast::{self, Document, FoodName};
use crate::card::{self, Imprint, Locale, demonstration};
use crate::check::{Checked, CheckedDish, check};
use crate::cli::gather::{self, Format as Messages};
use crate::cli::{CLEAN, ERRORS, Failure, Input, build, complain, nutrients, say, say_plain};
use crate::compute::scaling::{self, Kind as LineKind, Line, Scaled, TOLERANCE, Target, Wanted};
use crate::diagnostic::{Severity, Sink, quote};
use crate::quantity::{Exact, parse_number, round_half_even};
use crate::resolve::food;
use crate::source::Source;
use crate::syntax::{self, Kind};
use crate::typeset::{Engine, Template};
use crate::workspace::{Shelf, Workspace, settings, shown};

/// Name and version of the JSON object.
pub const SCHEMA: &str = "porringer-scale/1";

#[derive(Debug, clap::Args)]
#[command(group(clap::ArgGroup::new("wanted").required(true).args(["portions", "makes", "from", "by"])))]
pub struct Arguments {
    /// The dish file.
    #[arg(value_name = "DISH")]
    dish: PathBuf,
    /// So many portions.
    #[arg(long, value_name = "N")]
    portions: Option<String>,
    /// Ages whose portion counts, such as "9 to 11 months"; default: the
    /// largest portion of the dish.
    #[arg(long, value_name = "AGES")]
    age: Option<String>,
    /// What it is to make, such as "5 cups".
    #[arg(long, value_name = "AMOUNT")]
    makes: Option<String>,
    /// As far as this goes, such as "3 kg pumpkin" or "3 kg pumpkin, as bought".
    #[arg(long, value_name = "AMOUNT FOOD")]
    from: Option<String>,
    /// So many times the recipe, such as 2 1/2.
    #[arg(long, value_name = "N", num_args = 1..=2)]
    by: Vec<String>,
    /// What is written.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
    /// Write to a file; a PDF needs one.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Language of the sheet; default: that of the dish.
    #[arg(long, value_name = "TAG")]
    language: Option<String>,
    /// Paper of the sheet: A4, A5, A6 or Letter.
    #[arg(long, default_value = "A4")]
    paper: String,
    /// Further font files, or folders of them, beside the workspace's.
    #[arg(long, value_name = "FILE|DIR")]
    font: Vec<PathBuf>,
    /// A further composition table, as for `check`.
    #[arg(long, value_name = "FILE.csv")]
    foods: Vec<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// A table for a person.
    Human,
    /// One object, unrounded.
    Json,
    /// The dish's text with its amounts scaled.
    Dish,
    /// A sheet to cook from before a group.
    Pdf,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let wanted = wanted(arguments)?;
    let months = arguments.age.as_deref().map(ages).transpose()?;
    if arguments.format == Format::Pdf && arguments.out.is_none() {
        return Err(Failure("a PDF needs a file: add `--out sheet.pdf`".to_owned()));
    }
    let input = Input { paths: vec![arguments.dish.clone()], foods: arguments.foods.clone() };
    let workspace = gather::workspace(&input)?;
    if Kind::of_path(&arguments.dish) != Some(Kind::Dish) || arguments.dish.is_dir() {
        return Err(Failure(format!("`{}` is no dish file", shown(&arguments.dish))));
    }
    let language = arguments.language.clone();
    let languages: Vec<String> = language.iter().cloned().collect();
    let further = build::fonts_and(&arguments.font, &workspace)?;
    // Only the sheet needs the texts in its language.
    let checked = if arguments.format == Format::Pdf {
        gather::with_texts(std::slice::from_ref(&arguments.dish), &workspace, &languages, &further)
    } else {
        gather::all(std::slice::from_ref(&arguments.dish), &workspace)
    };
    let Some(file) = checked.first() else { return Ok(ERRORS) };
    let faulty = workspace.faults.iter().flat_map(|fault| &fault.diagnostics).any(|m| m.severity == Severity::Error);
    let Some(dish) = file.dish.as_ref().filter(|_| !file.has_errors() && !faulty) else {
        let (text, _) = gather::report(&workspace, &checked, Messages::Human, false);
        say(&text);
        complain("nothing is scaled: mend the dish first");
        return Ok(ERRORS);
    };
    let target = scaling::target(&dish.resolved, &dish.computed, &workspace.reference, &wanted, months)
        .map_err(|why| Failure(format!("{}: {why}", file.source.name)))?;
    let scaled = scaling::scale(&dish.resolved, &file.source, target.factor, &workspace.reference);
    let work = Work { dish, source: &file.source, workspace: &workspace, target: &target, scaled: &scaled };
    match arguments.format {
        Format::Human => deliver(arguments, &work.table(), true),
        Format::Json => {
            let mut text = serde_json::to_string_pretty(&work.object()).unwrap_or_default();
            text.push('\n');
            deliver(arguments, &text, false)
        }
        Format::Dish => {
            let code = deliver(arguments, &scaled.text(&file.source), false)?;
            // A half of a small dish may be less than its portion.
            let again = work.again(&arguments.dish);
            for message in again.diagnostics.iter().filter(|message| message.severity == Severity::Error) {
                let line = again.source.place(message.span.start).line;
                complain(&format!("line {line} of the scaled dish: {}", message.message));
            }
            Ok(if again.has_errors() { ERRORS } else { code })
        }
        Format::Pdf => {
            let own = gather::own_language(&file.document, &workspace);
            let (text, _) = gather::report(&workspace, &checked, Messages::Short, false);
            for line in text.lines() {
                complain(line);
            }
            sheet(arguments, &work, &own, further)
        }
    }
}

fn deliver(arguments: &Arguments, text: &str, plain: bool) -> Result<u8, Failure> {
    match &arguments.out {
        Some(path) => {
            build::write(path, text.as_bytes()).map_err(Failure)?;
            complain(&format!("written to {}", shown(path)));
        }
        None if plain => say_plain(text),
        None => say(text),
    }
    Ok(CLEAN)
}

/// Reads a line of the language from an argument, so that amounts are written
/// on the command line as in a file.
fn line(option: &str, keyword: &str, text: &str) -> Result<ast::Dish, Failure> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut sink = Sink::new();
    let (_, document) = syntax::parse(Kind::Dish, &format!("dish x\n{keyword} {text}\n"), &mut sink);
    let fault = sink.finish().into_iter().find(|message| message.severity == Severity::Error);
    match (document, fault) {
        (Document::Dish(dish), None) => Ok(dish),
        (_, fault) => {
            let (message, help) = fault.map_or((String::new(), None), |fault| (fault.message, fault.help));
            let help = help.map(|help| format!("; {help}")).unwrap_or_default();
            Err(Failure(format!("`{option} {text}`: {message}{help}")))
        }
    }
}

pub fn ages(text: &str) -> Result<(u16, u16), Failure> {
    let dish = line("--age", "for", text)?;
    let ages = dish.header.ages.ok_or_else(|| Failure(format!("`--age {text}`: write `9 to 11 months`")))?.value;
    Ok((ages.from, ages.to.unwrap_or(u16::MAX)))
}

/// A number of portions or children.
pub fn count(option: &str, text: &str) -> Result<Exact, Failure> {
    match parse_number(text) {
        Ok(value) if value > Exact::zero() => Ok(value),
        _ => Err(Failure(format!("`{option} {text}`: write a number above zero, such as 20"))),
    }
}

fn wanted(arguments: &Arguments) -> Result<Wanted, Failure> {
    if let Some(text) = &arguments.portions {
        return count("--portions", text).map(Wanted::Portions);
    }
    if let Some(text) = &arguments.makes {
        let makes = line("--makes", "makes", text)?.makes;
        return makes
            .map(|makes| Wanted::Makes(makes.value))
            .ok_or_else(|| Failure(format!("`--makes {text}`: write an amount, such as `5 cups`")));
    }
    if let Some(text) = &arguments.from {
        let take = line("--from", "take", text)?.parts.into_iter().flat_map(|part| part.takes).next();
        return take
            .and_then(|take| take.options.into_iter().next())
            .map(Wanted::From)
            .ok_or_else(|| Failure(format!("`--from {text}`: write an amount and a food, such as `3 kg pumpkin`")));
    }
    count("--by", &arguments.by.join(" ")).map(Wanted::By)
}

/// `185 g`, `1.84 kg`
pub fn weight(grams: f64) -> String {
    if grams >= 1000.0 {
        format!("{} kg", round_half_even(grams / 1000.0, 2))
    } else {
        format!("{} g", round_half_even(grams, if grams < 10.0 { 1 } else { 0 }))
    }
}

/// `+4.2 %`, `exact`
fn error_text(error: f64) -> String {
    let percent = round_half_even(error * 100.0, 1);
    if error.abs() < 1e-9 {
        "exact".to_owned()
    } else if percent == 0.0 {
        format!("{}0.0 %", if error < 0.0 { "-" } else { "+" })
    } else {
        format!("{percent:+.1} %")
    }
}

/// What is to be measured, in the language of dishes.
fn parts_text(line: &Line) -> String {
    line.parts
        .iter()
        .map(|part| match part.measure {
            Some(measure) => scaling::measured_text(part.number, measure),
            None => scaling::range_text(part.number),
        })
        .collect::<Vec<_>>()
        .join(" + ")
}

struct Work<'a> {
    dish: &'a CheckedDish,
    source: &'a Source,
    workspace: &'a Workspace,
    target: &'a Target,
    scaled: &'a Scaled,
}

impl Work<'_> {
    fn choice(&self, line: &Line) -> Option<&crate::resolve::Choice> {
        self.dish.resolved.ingredients.get(line.ingredient)?.options.get(line.option)
    }

    fn name(&self, line: &Line) -> String {
        let Some(choice) = self.choice(line) else { return String::new() };
        let mut name = food::label(&choice.option).value;
        if matches!(choice.option.food.value, FoodName::Dish(_)) && !name.starts_with("dish ") {
            name = format!("dish {name}");
        }
        for state in &choice.option.states {
            name.push_str(", ");
            name.push_str(&state.value);
        }
        name
    }

    /// The scaled text, checked like any other.
    fn again(&self, path: &Path) -> Checked {
        let shelf = Shelf::new(self.workspace.recipes(), &self.workspace.reference);
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let source = Source::new(self.source.name.clone(), self.scaled.text(self.source));
        check(source, Kind::Dish, &stem, &self.workspace.reference, &shelf.seen_from(&stem))
    }

    fn is_family(&self, line: &Line) -> bool {
        self.dish.resolved.ingredients.get(line.ingredient).is_some_and(|ingredient| ingredient.family)
    }

    /// `20 portions of 1/2 cup (9-11 months)`
    fn portions(&self) -> Option<String> {
        let portion = self.target.portion.and_then(|at| self.dish.computed.portions.get(at))?;
        let band = self.workspace.reference.profile.bands().get(portion.band)?;
        let count = self.target.portions?;
        let count = if (count - count.round()).abs() < 1e-6 { count.round() } else { round_half_even(count, 1) };
        let each = portion.amount.as_ref().map(scaling::makes_text);
        let grams = portion.grams.map(weight);
        let size = match (each, grams) {
            (Some(each), Some(grams)) => format!("{each} ({grams})"),
            (Some(each), None) => each,
            (None, Some(grams)) => grams,
            (None, None) => return None,
        };
        let word = if count == 1.0 { "portion" } else { "portions" };
        Some(format!("{count} {word} of {size} at {} months", band.key))
    }

    fn table(&self) -> String {
        let mut out = String::new();
        let _ = writeln!(out, "{}  ({})", self.dish.resolved.title(), self.source.name);
        let about = if self.target.approximate { "about " } else { "" };
        let _ = write!(out, "{about}{} times the recipe", scaling::number_text(self.scaled.factor));
        if let Some(portions) = self.portions() {
            let _ = write!(out, ": {portions}");
        }
        if let Some((makes, error)) = &self.scaled.makes {
            let _ = write!(out, "; makes {}", scaling::makes_text(makes));
            if error.abs() > 1e-9 {
                let _ = write!(out, " ({})", error_text(*error));
            }
        }
        out.push_str("\n\n");
        let mut rows =
            vec![["", "measure", "error", "exactly", "recipe", "weight", "as bought"].map(str::to_owned).to_vec()];
        let mut part = usize::MAX;
        for line in &self.scaled.lines {
            let Some(ingredient) = self.dish.resolved.ingredients.get(line.ingredient) else { continue };
            if line.option == 0 && ingredient.part != part {
                part = ingredient.part;
                if let Some(name) = self.dish.resolved.ast.parts.get(part).and_then(|part| part.name.as_ref()) {
                    rows.push(vec![format!("part {}", name.value)]);
                }
            }
            let lead = match line.kind {
                LineKind::Take => "",
                LineKind::Or => "  or ",
                LineKind::Swap => "  swap ",
            };
            let family = if line.kind == LineKind::Take && self.is_family(line) { " (family)" } else { "" };
            let about = if line.estimated { "≈ " } else { "" };
            rows.push(vec![
                format!("{lead}{}{family}", self.name(line)),
                if line.parts.is_empty() { line.before.clone() } else { parts_text(line) },
                if line.parts.is_empty() { String::new() } else { error_text(line.error) },
                line.exactly.clone(),
                line.before.clone(),
                line.grams.map_or("?".to_owned(), |grams| format!("{about}{}", weight(grams))),
                line.bought.map_or(String::new(), |bought| {
                    format!("{}{}", if bought.known { "" } else { "≥ " }, weight(bought.grams))
                }),
            ]);
        }
        nutrients::columns(&rows, &mut out);
        if self.scaled.lines.iter().any(|line| line.bought.is_some_and(|bought| !bought.known)) {
            out.push_str("≥ how much of it is refuse is not known\n");
        }
        out.push('\n');
        for note in self.notes() {
            let _ = writeln!(out, "{note}");
        }
        out
    }

    fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        for line in &self.scaled.lines {
            let percent = error_text(line.error);
            let what = self.name(line);
            match line.whole_at.filter(|_| line.kind == LineKind::Take) {
                Some(factor) => notes.push(format!(
                    "{what}: stays whole, {} for {} ({percent}); by {} it comes out even",
                    parts_text(line),
                    line.exactly,
                    scaling::number_text(factor)
                )),
                None if line.is_off() && !line.exactly.is_empty() => {
                    notes.push(format!("{what}: no measure comes within {} % ({percent})", TOLERANCE * 100.0));
                }
                None => {}
            }
        }
        for (name, amount) in &self.scaled.dishes {
            notes.push(format!("{name} is a dish of its own: `porringer scale {name}.dish --makes \"{amount}\"`"));
        }
        if let Some((pot, estimated)) =
            demonstration::pot_litres(self.dish, &self.workspace.reference, self.scaled.factor)
        {
            let about = if estimated { "about " } else { "" };
            notes.push(format!(
                "pot: {about}{} L or more, so that it is filled to two thirds (common practice, no source)",
                round_half_even(pot, 1)
            ));
        }
        if self.scaled.factor != Exact::whole(1) {
            notes.push(
                "times: cooking times do not scale; count them from the boil (common practice, no source)".to_owned(),
            );
            for span in &self.scaled.texts {
                let place = self.source.place(span.start);
                let text = self.source.slice(*span).split_whitespace().collect::<Vec<_>>().join(" ");
                notes.push(format!("line {}: a number in the text stays as it is: {}", place.line, quote(&text)));
            }
        }
        notes
    }

    /// `{schema, id, title, factor, portions, makes, lines, notes}`; errors are
    /// shares, 0.02 for 2 % too much.
    fn object(&self) -> Value {
        let exact = |value: Exact| json!({ "numerator": value.numerator(), "denominator": value.denominator(), "value": value.value() });
        let portion = self.target.portion.and_then(|at| self.dish.computed.portions.get(at));
        let band = portion.and_then(|portion| self.workspace.reference.profile.bands().get(portion.band));
        let lines: Vec<Value> = self
            .scaled
            .lines
            .iter()
            .map(|line| {
                json!({
                    "kind": match line.kind { LineKind::Take => "take", LineKind::Or => "or", LineKind::Swap => "swap" },
                    "family": self.is_family(line),
                    "food": self.name(line),
                    "recipe": line.before,
                    "exactly": line.exactly,
                    "measure": parts_text(line),
                    "parts": line.parts.iter().map(|part| json!({
                        "low": exact(part.number.low),
                        "high": exact(part.number.high),
                        "unit": part.measure.map(|measure| measure.unit.word()),
                        "size": part.measure.and_then(|measure| measure.size).map(|size| size.word()),
                        "heaped": part.measure.is_some_and(|measure| measure.heap == Some(crate::quantity::Heap::Heaped)),
                    })).collect::<Vec<_>>(),
                    "error": line.error,
                    "within_tolerance": !line.is_off(),
                    "even_by": line.whole_at.map(exact),
                    "grams": line.grams,
                    "estimated": line.estimated,
                    "bought_g": line.bought.map(|bought| bought.grams),
                    "refuse_known": line.bought.map(|bought| bought.known),
                })
            })
            .collect();
        json!({
            "schema": SCHEMA,
            "id": self.dish.id,
            "title": self.dish.resolved.title(),
            "factor": exact(self.scaled.factor),
            "approximate": self.target.approximate,
            "portions": self.target.portions.map(|count| json!({
                "count": count,
                "band": band.map(|band| band.key.clone()),
                "amount": portion.and_then(|portion| portion.amount.as_ref()).map(scaling::makes_text),
                "grams": portion.and_then(|portion| portion.grams),
            })),
            "makes": self.scaled.makes.as_ref().map(|(makes, error)| json!({ "text": scaling::makes_text(makes), "error": error })),
            "largest_error": self.scaled.largest_error(),
            "lines": lines,
            "notes": self.notes(),
        })
    }
}

/// Sets the sheet from the scaled dish, checked anew.
fn sheet(arguments: &Arguments, work: &Work<'_>, own: &str, further: Vec<typst::text::Font>) -> Result<u8, Failure> {
    let workspace = work.workspace;
    let tag = arguments.language.clone().unwrap_or_else(|| own.to_owned());
    let locale =
        Locale::with_digits(&tag, workspace.settings.digits).ok_or_else(|| Failure(build::unknown_language(&tag)))?;
    let paper = settings::paper(&arguments.paper).ok_or_else(|| {
        Failure(format!("`{}` is no paper; there are {}", arguments.paper, settings::PAPERS.join(", ")))
    })?;
    let again = work.again(&arguments.dish);
    let Some(dish) = again.dish.as_ref().filter(|_| !again.has_errors()) else {
        // Scaling changes no food and no method, so only a rounding that
        // reaches a limit comes here; the messages say which.
        let (text, _) = gather::report(workspace, std::slice::from_ref(&again), Messages::Human, false);
        say(&text);
        complain("no sheet is made: the scaled dish has errors that the recipe has not");
        return Ok(ERRORS);
    };
    let mut fonts: Vec<String> = further.iter().map(|font| font.info().family.to_string()).collect();
    fonts.dedup();
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper: paper.to_owned(),
        fonts,
    };
    let maker = card::Maker {
        dish,
        reference: &workspace.reference,
        locale: &locale,
        own_language: own,
        imprint: &imprint,
        changed: &again.changed,
    };
    let brief = demonstration::Brief { original: work.dish, scaled: work.scaled, target: work.target };
    let data = demonstration::make(&maker, &brief);
    let template =
        Template::built_in("demonstration").ok_or_else(|| Failure("there is no look for demonstrations".to_owned()))?;
    let engine = Engine::new(1, further).map_err(|fault| Failure(fault.to_string()))?;
    let jobs = [data];
    let mut made = None;
    engine.each(
        &jobs,
        |data| {
            let document = engine.document(&template, data)?;
            let pdf = engine.export(&document, &format!("{}.{}.demonstration", data.id, data.lang))?;
            Ok((pdf, document.pages().len()))
        },
        |_, result| made = Some(result),
    );
    let (pdf, count) = made
        .ok_or_else(|| Failure("the sheet could not be set".to_owned()))?
        .map_err(|fault| Failure(fault.to_string()))?;
    let path = arguments.out.clone().unwrap_or_else(|| Path::new("demonstration.pdf").to_path_buf());
    build::write(&path, &pdf).map_err(Failure)?;
    let count = if count == 1 { "1 page".to_owned() } else { format!("{count} pages") };
    complain(&format!("{count} in {}", shown(&path)));
    Ok(CLEAN)
}
