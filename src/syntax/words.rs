//! What the author's messages call the grammar's rules, and the keywords of
//! each kind of file.

use super::{Kind, Rule};

/// Keywords a kind of file may use, in the order of the language page.
pub fn keywords(kind: Kind) -> &'static [&'static str] {
    match kind {
        Kind::Dish => &[
            "dish", "id", "language", "in", "for", "makes", "cooked", "portion", "claim", "diet", "take", "family",
            "part", "step", "swap", "serve", "store", "tip", "caution", "note", "season", "reviewed", "source",
            "picture",
        ],
        Kind::Menu => &[
            "menu", "id", "language", "in", "for", "meal", "snack", "serve", "store", "tip", "caution", "note",
            "season", "reviewed", "source",
        ],
        Kind::Booklet => &[
            "booklet", "id", "language", "in", "paper", "section", "page", "annex", "serve", "store", "tip", "caution",
            "note", "reviewed", "source", "picture",
        ],
    }
}

/// The strict rule of a keyword, to find out how far a bad line got.
pub fn line_rule(keyword: &str) -> Option<Rule> {
    Some(match keyword {
        "dish" => Rule::dish_line,
        "menu" => Rule::menu_line,
        "booklet" => Rule::booklet_line,
        "id" => Rule::id_line,
        "language" => Rule::language_line,
        "in" => Rule::in_line,
        "for" => Rule::for_line,
        "makes" => Rule::makes_line,
        "cooked" => Rule::cooked_line,
        "portion" => Rule::portion_line,
        "claim" => Rule::claim_line,
        "diet" => Rule::diet_line,
        "take" => Rule::take_line,
        "family" => Rule::family_line,
        "part" => Rule::part_line,
        "step" => Rule::step_line,
        "swap" => Rule::swap_line,
        "serve" | "store" | "tip" | "caution" | "note" => Rule::remark_line,
        "season" => Rule::season_line,
        "reviewed" => Rule::reviewed_line,
        "source" => Rule::source_line,
        "picture" => Rule::picture_line,
        "meal" | "snack" => Rule::meal_line,
        "paper" => Rule::paper_line,
        "section" => Rule::section_line,
        "page" => Rule::page_line,
        "annex" => Rule::annex_line,
        _ => return None,
    })
}

/// How a line of this keyword is written, for the help of a bad line.
pub fn pattern(keyword: &str) -> &'static str {
    match keyword {
        "dish" => "dish Red bean and pumpkin mash",
        "menu" => "menu A market day",
        "booklet" => "booklet First foods",
        "id" => "id red-bean-mash",
        "language" => "language en",
        "in" => "in sw Maharagwe ya kuponda",
        "for" => "for 9 to 23 months",
        "makes" => "makes 3 cups",
        "cooked" => "cooked 420 g",
        "portion" => "portion 9 to 11 months: 1/2 cup",
        "claim" => "claim source of iron",
        "diet" => "diet vegetarian",
        "take" => "take 1/2 cup red kidney beans, dry (92 g) as beans",
        "family" => "family 1/2 tsp iodised salt",
        "part" => "part filling",
        "step" => "step boil beans with onion for 60 min, until soft: Keep it boiling.",
        "swap" => "swap pumpkin for orange sweet potato",
        "season" => "season march to june",
        "reviewed" => "reviewed 2026-05-01 by nutritionist",
        "source" => "source Cooking group, Halamoya",
        "picture" => "picture pictures/mash.jpg: A bowl of orange mash",
        "meal" => "meal 12:30 lunch: red-bean-pumpkin-mash",
        "snack" => "snack 10:00: 1 small banana",
        "paper" => "paper A5",
        "section" => "section Mashes",
        "page" => "page red-bean-pumpkin-mash",
        "annex" => "annex measures, sources",
        "store" => "store in a covered bowl, for one day",
        "tip" => "tip Orange sweet potato does as well as pumpkin.",
        "caution" => "caution Take every bone out.",
        "note" => "note Liked by all at the cooking group.",
        _ => "serve warm, within 2 hours",
    }
}

/// What stood expected where a line stopped being readable. The match is
/// exhaustive, so a new rule of the grammar has to be given its word here.
pub fn expected(rule: Rule) -> Option<&'static str> {
    use Rule::*;
    Some(match rule {
        number | numeral | range | sign | fraction => "a number",
        ages | age => "an age in months, such as `6 to 8 months`",
        months_word => "`months`",
        amount | measure | unit | size | heap | bare | bare_unit | article => "an amount, such as `1/2 cup`",
        makes | made_piece | portions_word => "an amount, such as `3 cups` or `8 pieces`",
        percent => "a percentage, such as `112 %`",
        food | food_name | quoted | quoted_text | row_ref | dish_ref | option | takes | takes_item | item_option
        | swap_food => "a food",
        table | slug => "a name of letters, digits and hyphens",
        state | as_bought => "a state, such as `peeled`",
        bracket | bracket_text => "a weight, such as `(92 g)`",
        keep | keep_code | code_number | keep_none => "a retention code, such as `r6:3004`",
        alias | alias_name => "a short name",
        swapped => "the ingredient that may be swapped",
        claim_kind => "`source of`, `rich in`, `low in` or `free of`",
        claimed => "a nutrient",
        diet_word => "a diet",
        head | action | process | verb => "a verb, such as `boil`",
        objects | object => "an ingredient",
        medium => "what it is cooked in",
        duration | long_span | overnight | whistles => "a time, such as `10 min`",
        time_unit => "`min`, `h` or `days`",
        heat_level => "`low`, `medium` or `high`",
        degrees => "`C`",
        cue => "what to look for",
        for_whom | whom => "`for the child`",
        with_clause | in_clause | for_clause | bare_overnight | on_clause | at_clause | until_clause | unattended => {
            "`with`, `in`, `for`, `on`, `at` or `until`"
        }
        text | prose => "some text",
        tag => "a language tag, such as `sw`",
        path => "a file name",
        date => "a date, such as `2026-05-01`",
        feeding => "`breastfed` or `not breastfed`",
        months | month | month_span | all_year => "a month",
        clock => "a time of day, such as `7:00`",
        meal_name => "a meal's name",
        page_kind => "`menu` or a dish's name",
        of => "`of`",
        EOI | dish_file | menu_file | booklet_file | bom | stray | comment | skip_line | dish_line | id_line
        | language_line | in_line | for_line | makes_line | cooked_line | portion_line | claim_line | diet_line
        | take_line | family_line | part_line | step_line | swap_line | remark_line | season_line | reviewed_line
        | source_line | picture_line | menu_line | meal_line | booklet_line | paper_line | section_line | page_line
        | annex_line | bad_line | first_word | kw_dish | kw_menu | kw_booklet | kw_id | kw_language | kw_in
        | kw_for | kw_makes | kw_cooked | kw_portion | kw_claim | kw_diet | kw_take | kw_family | kw_part | kw_step
        | kw_swap | kw_remark | kw_season | kw_reviewed | kw_source | kw_picture | kw_meal | kw_paper | kw_section
        | kw_page | kw_annex | blank | silent_skip | gap | end | text_end | word_end | any_word | plain_word
        | comma | digit | vulgar | mark | dash | piece_word | or | option_part | item_part | food_word | kw_as
        | kw_keep | and | object_word | piece_name | continued | go_on | clause_word | clause | cue_word
        | dish_entry | menu_entry | booklet_entry => return None,
    })
}
