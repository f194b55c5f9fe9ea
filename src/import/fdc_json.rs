//! USDA FoodData Central downloads in JSON: an object with one list of foods
//! under `FoundationFoods`, `SRLegacyFoods` and the like, or a bare list.
//! Foods are taken one at a time, so that a large file needs no more memory
//! than its figures do.
//!
//! Layout: FoodData Central's download and service descriptions (memory).

use std::collections::BTreeMap;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::Value;

use crate::import::cell::{self, Signs};
use crate::import::fdc::{self, Foods};
use crate::import::flat::scaled;
use crate::import::unit::{self, Unit};
use crate::import::{Import, Place};

/// Reads the text of a file.
pub fn read(name: &str, text: &str, import: &mut Import) {
    let mut reader =
        Reader { file: name, foods: Foods::default(), left: BTreeMap::new(), weights: 0, lists: 0, import };
    let mut json = serde_json::Deserializer::from_str(text);
    let end = Top(&mut reader).deserialize(&mut json).and_then(|()| json.end());
    let Reader { foods, left, weights, lists, .. } = reader;
    import.rows = foods.rows;
    if let Err(error) = end {
        import.remarks.error(
            Place::file(name).row(error.line()).path(format!("character {}", error.column())),
            "from here on this cannot be read as JSON",
            "download the file again: it may be cut off",
        );
    } else if lists == 0 {
        import.remarks.error(
            Place::file(name),
            "there is no list of foods",
            "a download has a list such as `FoundationFoods` or `SRLegacyFoods`",
        );
    } else if import.rows.is_empty() {
        import.remarks.error(Place::file(name), "the table has no foods", "the list of foods is empty");
    }
    for (head, count) in left {
        import.remarks.note(
            Place::file(name),
            format!("{count} figures of `{head}` left out: no component known here"),
            "nothing is computed from it",
        );
    }
    fdc::weights(Place::file(name), weights, import);
}

struct Reader<'a> {
    file: &'a str,
    foods: Foods,
    left: BTreeMap<String, usize>,
    weights: usize,
    lists: usize,
    import: &'a mut Import,
}

/// The whole file: an object of lists, or a list.
struct Top<'r, 'a>(&'r mut Reader<'a>);

impl<'de> DeserializeSeed<'de> for Top<'_, '_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Top<'_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list of foods")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        while let Some(key) = map.next_key::<String>()? {
            if key.ends_with("Foods") || key == "foods" {
                map.next_value_seed(List { reader: self.0, name: &key })?;
            } else {
                map.next_value::<IgnoredAny>()?;
            }
        }
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, seq: A) -> Result<(), A::Error> {
        List { reader: self.0, name: "" }.visit_seq(seq)
    }
}

struct List<'r, 'a, 'n> {
    reader: &'r mut Reader<'a>,
    name: &'n str,
}

impl<'de> DeserializeSeed<'de> for List<'_, '_, '_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for List<'_, '_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list of foods")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<(), A::Error> {
        self.reader.lists += 1;
        let mut number = 0;
        while let Some(value) = seq.next_element::<Value>()? {
            food(self.reader, &format!("{}[{number}]", self.name), number + 1, &value);
            number += 1;
        }
        Ok(())
    }
}

/// A value as it would stand in a cell.
fn text(value: Option<&Value>) -> String {
    match value {
        Some(Value::String(text)) => text.trim().to_owned(),
        Some(Value::Number(number)) => number.to_string(),
        None | Some(Value::Null) => String::new(),
        Some(other) => other.to_string(),
    }
}

fn food(reader: &mut Reader<'_>, path: &str, number: usize, value: &Value) {
    let place = || Place::file(reader.file).path(path);
    let id = text(value.get("fdcId"));
    let name = text(value.get("description"));
    if id.is_empty() || id.contains(|c: char| !c.is_ascii_digit()) {
        reader.import.remarks.error(
            place(),
            format!("`{id}` is no food number: the food is left out"),
            "a food has a whole number as its `fdcId`",
        );
        return;
    }
    let kind = text(value.get("dataType"));
    if !fdc::is_food(&kind) {
        reader.import.remarks.note(
            place(),
            format!("`{kind}` is no kind of food: {id} is left out"),
            "it is a sample that was analysed for a food",
        );
        return;
    }
    if matches!(text(value.get("servingSizeUnit")).to_lowercase().as_str(), "ml" | "mlt") {
        reader.import.remarks.error(
            place(),
            format!("food {id} is given per 100 mL and has no density: it is left out"),
            "weigh 100 mL of it and enter it by hand",
        );
        return;
    }
    if !reader.foods.add(&id, &name) {
        reader.import.remarks.error(
            place(),
            format!("the food {id} stands twice: this one is left out"),
            "take one of the two out",
        );
        return;
    }
    let Some(at) = reader.foods.position(&id) else { return };
    let Some(figures) = value.get("foodNutrients").and_then(Value::as_array) else {
        reader.import.remarks.error(
            place(),
            format!("food {id} has no list `foodNutrients`"),
            "take the file as it is shipped",
        );
        return;
    };
    for (entry, figure) in figures.iter().enumerate() {
        let place = Place::file(reader.file).path(format!("{path}.foodNutrients[{entry}]"));
        component(reader, at, &id, number, place, figure);
    }
    reader.weights += value.get("foodPortions").and_then(Value::as_array).map_or(0, Vec::len);
}

fn component(reader: &mut Reader<'_>, at: usize, food: &str, row: usize, place: Place, figure: &Value) {
    // The download nests the component; the service's short form does not.
    let nested = figure.get("nutrient").unwrap_or(figure);
    let number = match text(nested.get("number")) {
        number if number.is_empty() => text(nested.get("nutrientNumber")),
        number => number,
    };
    let name = match text(nested.get("name")) {
        name if name.is_empty() => text(nested.get("nutrientName")),
        name => name,
    };
    let head = format!("{number} {name}");
    let amount = figure.get("amount").or_else(|| figure.get("value"));
    if amount.is_none_or(Value::is_null) {
        return;
    }
    let Some((id, rank)) = fdc::component(&number) else {
        *reader.left.entry(head).or_default() += 1;
        return;
    };
    let word = text(nested.get("unitName"));
    let found = Unit::from_word(&word)
        .ok_or_else(|| "units are g, mg, µg, kcal, kJ and IU".to_owned())
        .and_then(|unit| unit::factor(id, unit).map(|factor| (unit, factor)));
    let remarks = &mut reader.import.remarks;
    let (unit, factor) = match found {
        Ok(found) => found,
        Err(why) => {
            let message = format!("{name} of food {food} in `{word}` cannot be converted: it stays unknown");
            remarks.error(place, message, why);
            return;
        }
    };
    let written = text(amount);
    let signs = Signs::default();
    let amount = match cell::read(&written, &signs) {
        Ok(Some(amount)) => amount,
        Ok(None) => return,
        Err(fault) => {
            let message = format!("`{written}` {}: {} of food {food} stays unknown", fault.why, id.get().tag);
            remarks.error(place, message, fault.help);
            return;
        }
    };
    let limit = figure.get("loq").and_then(Value::as_f64);
    let derivation = figure
        .get("foodNutrientDerivation")
        .map(|derivation| text(derivation.get("description")))
        .unwrap_or_else(|| text(figure.get("derivationDescription")));
    let amount = scaled(fdc::meaning(amount, limit, &derivation), factor.factor);
    if let Some(value) = amount.value().filter(|value| *value > unit::most(id)) {
        let own = id.get();
        remarks.error(
            place,
            format!("{value} {} {} of food {food} cannot be in 100 g: it stays unknown", own.unit, own.tag),
            "the unit is wrong, or the figure",
        );
        return;
    }
    if reader.foods.set(at, id, rank, amount, row).is_some() {
        remarks.error(
            place,
            format!("{head} of food {food} stands twice, and differs: the first is kept"),
            "take one of the two out",
        );
    }
    fdc::used(reader.import, &head, id, unit, factor);
}
