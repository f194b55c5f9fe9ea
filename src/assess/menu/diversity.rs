//! `menu/few-food-groups`: fewer food groups than the indicator of minimum
//! dietary diversity asks.

use super::{MenuCase, group_least};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::FoodGroup;

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    let iycf = &case.reference.profile.file.iycf;
    let needed = iycf.groups_needed.value;
    let least = group_least(case.reference);
    for (day, band) in case.bands() {
        let groups = day.groups_of(least);
        if groups.len() as f64 >= needed {
            continue;
        }
        let named = |group: &FoodGroup| {
            iycf.group.iter().find(|row| row.id == group.word()).map_or(group.word(), |row| row.en.as_str()).to_owned()
        };
        let missing: Vec<String> = FoodGroup::ALL
            .iter()
            .filter(|group| !matches!(group, FoodGroup::None | FoodGroup::BreastMilk) && !groups.contains(group))
            .map(named)
            .collect();
        sink.push(
            Diagnostic::new(
                Code::MenuFewFoodGroups,
                case.title_span(),
                format!(
                    "{} of {} food groups at {} months; at least {needed} are needed",
                    groups.len(),
                    iycf.group.len(),
                    band.key
                ),
            )
            .help(format!("add a food of another group: {}", missing.join("; "))),
        );
        return;
    }
}
