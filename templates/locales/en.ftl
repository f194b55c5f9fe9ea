# Words of the card in English. A translator edits a copy of this file.
# Numbers arrive as text that is already written for the language; where the
# plural matters a number comes with them as $n.

## Ages and times

ages-label = For children of
ages-range = { $from } to { $to } months
ages-one = { $from } months
ages-from = { $from } months and over
ages-alt = Months of age. The dish is for { $text }.
band = { $from } to { $to } months

time-hands-on = Work
time-total = In all
time-minutes = { $n } min
time-hours = { $n } h
time-hour = { $n } h
time-both = { $hours } { $minutes }
time-days = { $n ->
    [one] { $text } day
   *[other] { $text } days
}
time-seconds = { $text } s
time-overnight = overnight
time-whistles = { $n ->
    [one] { $text } whistle
   *[other] { $text } whistles
}
time-range = { $low } to { $high }
time-open = longer: some steps give no time
start-evening = Start the evening before
start-days = { $n ->
    [one] Start the day before
   *[other] Start { $count } days before
}
start-early = Start { $hours } hours before the meal

makes-label = Makes
portion-label = One meal for the child
usual-amount = about { $amount }

## Numbers, lists, amounts

range = { $low } to { $high }
amount = { $number } { $unit }
amount-heaped = { $number } heaped { $unit }
amount-level = { $number } level { $unit }
amount-sized = { $number } { $size } { $unit }
amount-size-only = { $number } { $size }
amount-of-food = { $amount } { $food }
title-in-line = lower
portions-of = { $number } { $n ->
    [one] portion
   *[other] portions
} of { $amount }
portions = { $number } { $n ->
    [one] portion
   *[other] portions
}
portion-share = { $n ->
    [one] the whole dish
   *[other] 1 of { $count } portions
}
to-taste = to taste
or = or { $what }
comma = ,
stop = .
colon = :
grams = { $n } g
millilitres = { $n } mL

unit-cup = { $n ->
    [one] cup
   *[other] cups
}
unit-tbsp = { $n ->
    [one] tablespoon
   *[other] tablespoons
}
unit-tsp = { $n ->
    [one] teaspoon
   *[other] teaspoons
}
unit-mL = mL
unit-L = { $n ->
    [one] litre
   *[other] litres
}
unit-g = g
unit-kg = kg
unit-mg = mg
unit-cm = cm
unit-pinch = { $n ->
    [one] pinch
   *[other] pinches
}
unit-dash = { $n ->
    [one] dash
   *[other] dashes
}
unit-handful = { $n ->
    [one] handful
   *[other] handfuls
}
unit-piece = { $n ->
    [one] piece
   *[other] pieces
}
unit-clove = { $n ->
    [one] clove
   *[other] cloves
}
unit-leaf = { $n ->
    [one] leaf
   *[other] leaves
}
unit-slice = { $n ->
    [one] slice
   *[other] slices
}
unit-bunch = { $n ->
    [one] bunch
   *[other] bunches
}
unit-stalk = { $n ->
    [one] stalk
   *[other] stalks
}
unit-sprig = { $n ->
    [one] sprig
   *[other] sprigs
}
unit-segment = { $n ->
    [one] segment
   *[other] segments
}
unit-wedge = { $n ->
    [one] wedge
   *[other] wedges
}
unit-head = { $n ->
    [one] head
   *[other] heads
}
unit-pod = { $n ->
    [one] pod
   *[other] pods
}
unit-cob = { $n ->
    [one] cob
   *[other] cobs
}
unit-fillet = { $n ->
    [one] fillet
   *[other] fillets
}
unit-stick = { $n ->
    [one] stick
   *[other] sticks
}
unit-cube = { $n ->
    [one] cube
   *[other] cubes
}
unit-drop = { $n ->
    [one] drop
   *[other] drops
}
size-small = small
size-medium = medium
size-large = large

measure-alt = { $amount }, drawn to its fill

## Sections

ingredients-label = What you need
family-title = For the family only, after the child’s food is set aside
method-label = How to make it
serve-label = Serve
store-label = Keep
tip-label = Tip
caution-label = Take care
note-label = Note

## Steps

set-aside = Set the child’s portion aside now.
set-aside-why = What comes after this is for the rest of the family.
unattended = You need not stand by.
everything = everything
the-rest = the rest
child-portion = the child’s portion
the-pot = the food
the-batter = the batter
the-dough = the dough
the-porridge = the porridge
sentence-order = verb-first
ingredient-order = amount-first
water = water
piece-with = with { $what }
piece-with-fill = with { $what }
piece-in = in { $what }
piece-heat-low = on low heat
piece-heat-medium = on medium heat
piece-heat-high = on high heat
piece-celsius = at { $n } °C
until = until { $cue }
sentence-join = { $first } { $rest }

do-wash = Wash { $what }
do-rinse = Rinse { $what }
do-clean = Clean { $what }
do-sort = Sort { $what }
do-peel = Peel { $what }
do-trim = Trim { $what }
do-shell = Shell { $what }
do-stone = Take the stone out of { $what }
do-bone = Take all bones out of { $what }
do-crumble = Crumble { $what }
do-flake = Flake { $what }
do-scoop = Scoop out { $what }
do-halve = Halve { $what }
do-quarter = Quarter { $what }
do-cut = Cut { $what }
do-slice = Slice { $what }
do-dice = Dice { $what }
do-chop = Chop { $what }
do-shred = Shred { $what }
do-mince = Mince { $what }
do-grate = Grate { $what }
do-mash = Mash { $what }
do-crush = Crush { $what }
do-pound = Pound { $what }
do-press = Press { $what }
do-squeeze = Squeeze { $what }
do-puree = Work { $what } to a smooth paste
do-blend = Blend { $what }
do-grind = Grind { $what }
do-mill = Mill { $what }
do-sieve = Sieve { $what }
do-strain = Strain { $what }
do-beat = Beat { $what }
do-whisk = Whisk { $what }
do-knead = Knead { $what }
do-roll = Roll { $what }
do-shape = Shape { $what }
do-dry = Dry { $what }
do-soak = Soak { $what }
do-drain = Drain { $what }
do-sprout = Sprout { $what }
do-ferment = Leave { $what } to sour
do-rest = Let { $what } rest
do-stand = Let { $what } stand
do-leave = Leave { $what }
do-boil = Boil { $what }
do-cook = Cook { $what }
do-blanch = Dip { $what } in boiling water
do-simmer = Simmer { $what }
do-stew = Stew { $what }
do-braise = Braise { $what }
do-poach = Poach { $what }
do-thicken = Cook { $what } until thick
do-steam = Steam { $what }
do-pressure-cook = Cook { $what } in the pressure cooker
do-fry = Fry { $what }
do-deep-fry = Deep-fry { $what }
do-brown = Brown { $what }
do-scramble = Scramble { $what }
do-stir-fry = Fry { $what }, stirring
do-saute = Fry { $what } gently
do-soften = Soften { $what } in the pan
do-roast = Roast { $what }
do-grill = Grill { $what }
do-bake = Bake { $what }
do-toast = Toast { $what }
do-dry-roast = Roast { $what } in a dry pan
do-warm = Warm { $what }
do-reheat = Heat { $what } again
do-heat = Heat { $what }
do-melt = Melt { $what }
do-add = Add { $what }
do-pour = Pour in { $what }
do-put = Put in { $what }
do-place = Put in { $what }
do-sprinkle = Sprinkle { $what } over it
do-top = Put { $what } on top
do-season = Season with { $what }
do-mix = Mix { $what }
do-stir = Stir { $what }
do-combine = Put { $what } together
do-fold = Fold in { $what }
do-dissolve = Dissolve { $what }
do-fill = Fill { $what }
do-spread = Spread { $what }
do-wrap = Wrap { $what }
do-coat = Coat { $what }
do-divide = Divide { $what }
do-cover = Cover { $what }
do-cool = Let { $what } cool
do-set-aside = Set { $what } aside
do-serve = Serve { $what }
do-feed = Feed { $what }

cue-soft = soft
cue-very-soft = very soft
cue-tender = tender
cue-thick = thick
cue-smooth = smooth
cue-done = done
cue-cooked = cooked
cue-firm = firm
cue-golden = golden
cue-hot = hot
cue-warm = warm
cue-cool = cool
cue-dry = dry
cue-wilted = wilted
cue-it-thickens = it thickens
cue-it-boils = it boils

## States of food

state-dry = dry
state-dried = dried
state-raw = raw
state-cooked = cooked
state-boiled = boiled
state-roasted = roasted
state-toasted = toasted
state-fried = fried
state-steamed = steamed
state-baked = baked
state-smoked = smoked
state-tinned = tinned
state-canned = tinned
state-sprouted = sprouted
state-fermented = soured
state-peeled = peeled
state-unpeeled = unpeeled
state-cubed = cut in cubes
state-diced = diced
state-chopped = chopped
state-finely-chopped = finely chopped
state-sliced = sliced
state-grated = grated
state-mashed = mashed
state-ground = ground
state-minced = minced
state-whole = whole
state-halved = halved
state-quartered = quartered
state-boned = boned
state-shelled = shelled
state-pitted = without the stone
state-washed = washed
state-smooth = smooth
state-ripe = ripe
state-fresh = fresh
state-young = young
state-flaked = flaked
state-pounded = pounded
state-shredded = shredded
state-iodised = iodised
state-pasteurised = pasteurised
state-soft = soft
state-split = split
state-plain = plain
state-powdered = ground to powder

## Cautions that rules put beside a step

caution-raw-kidney-bean = Never eat these beans half cooked. Soak, throw the water away, and keep them at a full boil for at least { $minutes } minutes.
caution-raw-meat = Cook until no pink is left and the juice runs clear.
caution-raw-fish = Cook until the flesh is firm and comes apart.
caution-raw-fish-dried = Dried fish is raw: toast it until it is crisp, or boil it until it is soft.
caution-raw-egg = Cook until the egg is set all through. Nothing may stay runny.
caution-raw-milk = Let the milk boil before the child has it.
caution-choke-bones = Feel for bones with clean fingers. Take out every one.
caution-nut-paste = Stir the paste in well. Never give the paste alone on a spoon.
caution-raw-cassava = Peel cassava and cook it through. Never give it raw. Never use bitter cassava.
caution-mould-prone = Before you use { $what }, throw away any that are mouldy, shrivelled or bitter.
caution-liver = Too much liver can harm a child: keep to the amount, not more than once a week.
caution-nitrate-leaf = Eat food with leaves as soon as it is ready. Do not keep it warm.
caution-first-time = The first time, give only a little food with { $what }. Watch for rash or swelling.

## The back

back-title = What one portion gives
back-explain = Each bar is the part of a day’s need that one portion covers.
energy-label = Energy
energy-explain = For energy, the need is what food should bring in a day beside breast milk.
energy-density = { $n } kcal/g
kcal = { $n } kcal
kJ = { $n } kJ
percent = { $n }%
at-least = at least
unknown = not known
no-need-set = no need is set
limit-most = at most { $amount } a day

group-energy-growth = Energy and growth
group-blood = Blood
group-eyes-defence = Eyes and defence
group-bones = Bones
group-nerves = Nerves
group-salt = Salt
group-other = Other

nutrient-PROCNT = Protein
nutrient-FAT = Fat
nutrient-FIBTG = Fibre
nutrient-ZN = Zinc
nutrient-FE = Iron
nutrient-FOLDFE = Folate
nutrient-FOL = Folate
nutrient-VITB12 = Vitamin B12
nutrient-VITC = Vitamin C
nutrient-CU = Copper
nutrient-VITA_RAE = Vitamin A
nutrient-CA = Calcium
nutrient-P = Phosphorus
nutrient-MG = Magnesium
nutrient-VITD = Vitamin D
nutrient-THIA = Thiamin
nutrient-RIBF = Riboflavin
nutrient-NIA = Niacin
nutrient-VITB6A = Vitamin B6
nutrient-CHOLN = Choline
nutrient-NA = Sodium
nutrient-K = Potassium
nutrient-SE = Selenium
nutrient-ID = Iodine
nutrient-TOCPHA = Vitamin E
nutrient-VITK1 = Vitamin K
nutrient-MN = Manganese
nutrient-PANTAC = Pantothenic acid
nutrient-SUGAR = Sugars
nutrient-F18D3CN3 = Omega-3
nutrient-F18D2 = Omega-6

food-groups-title = Food groups in this dish
food-group-breast-milk = Breast milk
food-group-grains = Grains, roots, tubers
food-group-pulses = Beans, nuts, seeds
food-group-dairy = Milk foods
food-group-flesh = Meat, fish, liver
food-group-eggs = Eggs
food-group-vitamin-a = Vitamin A-rich fruit and vegetables
food-group-other-plants = Other fruit and vegetables

allergens-title = Contains
allergens-none = Contains none of the listed allergens
allergens-family = Only in the family’s share
allergen-gluten = gluten
allergen-crustacea = crustaceans
allergen-eggs = egg
allergen-fish = fish
allergen-peanuts = groundnut (peanut)
allergen-milk = milk
allergen-sesame = sesame
allergen-tree-nuts = tree nuts
allergen-soya = soya
allergen-oats = oats
allergen-buckwheat = buckwheat
allergen-celery = celery
allergen-lupin = lupin
allergen-mustard = mustard
allergen-molluscs = shellfish (molluscs)
allergen-sulphite = sulphite

claims-title = Statements and their basis
claim-source-of = Source of { $what }
claim-rich-in = Rich in { $what }
claim-low-in = Low in { $what }
claim-free-of = Free of { $what }
claim-basis = { $ages }: { $value } a portion, { $threshold } needed
claim-basis-bound = { $ages }: at least { $value } a portion, { $threshold } needed
claim-basis-100g = { $value } in 100 g, at most { $threshold } allowed
claims-note = For home cooking. Packaged food for young children may not say this unless national law allows it (Codex CXG 23-1997, 1.4).

texture-title = How soft
texture-thick-mashed = Thick and well mashed; it stays on the spoon.
texture-minced-finger = Finely chopped or mashed, with soft pieces to pick up.
texture-family-chopped = Family food, chopped or mashed where needed.

figures-title = Where the figures come from
figures-usda = Composition: USDA SR28 (public domain).
figures-table = Composition: table { $table }.
figures-dish = One part is another dish: { $dish }.
figures-borrowed = Figures of a like food stand for: { $foods }.
figures-retention = Loss in cooking: USDA retention factors, release 6.
figures-measures = 1 cup = { $cup } mL, 1 tablespoon = { $tbsp } mL, 1 teaspoon = { $tsp } mL.
figures-profile = Needs: { $title }, edition { $edition }.
figures-profile-amended = Needs: { $title }, edition { $edition }, on { $base }, edition { $base_edition }.
profile-cautious-international = International guidance, the more cautious figures
figures-switched-off = Switched off here: { $rule } ({ $reason }).
figures-lowered = Judged less strictly here: { $rule } ({ $reason }).
figures-cooked-weighed = The cooked weight was measured.
figures-cooked-estimated = The cooked weight, { $grams }, is an estimate.
figures-estimated = ≈ marks a weight that is an estimate.
figures-at-least = “At least”: the figure of some food is not known.
figures-volume-assumed = The weight of a portion is an estimate.
figures-reviewed = Reviewed { $date } by { $by }.
figures-reviewed-date = Reviewed { $date }.
figures-source = Dish from: { $source }.
figures-program = Made with Porringer { $version }.

standing-guidance = Follow your country’s guidance and the health worker’s advice. Go on breastfeeding.
standing-help = Stay with the child while it eats. If it chokes, has a rash or swelling, or is ill, get help at once.
absorption-helps-flesh = Meat or fish in this food may help the body take up iron and zinc.
absorption-helps-vitamin-c = Vitamin C in this food may help the body take up iron.
absorption-hinders-phytate = Phytate in this food may hinder the uptake of zinc, iron or calcium.
absorption-hinders-tea = Tea or coffee in this food may hinder the uptake of iron.
standing-figures = The figures are calculated, not measured. They do not replace advice for one child.

## A day's menu

menu-ages-alt = Months of age. The day is for { $text }.
menu-breastfed = breastfed
menu-not-breastfed = not breastfed
menu-strip-alt = The day as a line, with a mark where the child eats: { $times }.
menu-eat-label = What the child eats
menu-breast-milk = Breast milk by day and by night, as often as the child wants.
menu-work-label = The cook’s day
menu-day-before = the day before, { $time }
menu-days-before = { $n } days before, { $time }
menu-work-wait = { $what }: { $time }. For { $meals }.
menu-work-pot = One pot for { $meals }. { $what }: { $time }.
menu-work-cook = Start “{ $dish }”: { $time }. For { $meals }.
menu-work-cook-hands = Start “{ $dish }”: { $time }, of it { $work } of work. For { $meals }.
clock = { $hour }:{ $minute }
clock-hour = { $hour }
clock-morning = in the morning
clock-noon = in the afternoon
clock-evening = in the evening
clock-night = at night
meal-meal = Meal
meal-snack = Snack
meal-breakfast = Breakfast
meal-lunch = Lunch
meal-supper = Supper
meal-dinner = Dinner
meal-morning = Morning
meal-mid-morning = Mid-morning
meal-midday = Midday
meal-afternoon = Afternoon
meal-evening = Evening
meal-bedtime = Before bed
menu-back-title = What the day gives
menu-back-explain = Each bar is the part of a day’s need that food and breast milk together cover.
menu-back-explain-not-breastfed = Each bar is the part of a day’s need that the food covers.
menu-energy-food = Energy from food
menu-energy-all = Energy in all
menu-groups-title = Food groups: { $n } of { $all }; at least { $needed } are needed
menu-times = Meals: { $meals }. Snacks: { $snacks }. The child needs to eat at least { $needed } times a day.
menu-short-title = What is short, and what would help
menu-short-line = { $what } { $share }: { $foods } would close it.
menu-short-line-none = { $what } { $share }: no food alone closes it; ask about supplements.
menu-short-none = Nothing that is shown here is short.
figures-menu-dishes = The dishes’ figures stand on their own cards.
figures-milk = Breast milk, { $ages }: { $ml } and { $kcal } a day on average ({ $source }, { $year }; volume { $status }); what is in it: USDA SR28 row 1107.
figures-breastfed-assumed = Counted for a breastfed child; the menu does not say.
figures-menu-source = Menu from: { $source }.
status-checked = checked
status-computed = calculated
status-memory = not yet checked
standing-guidance-not-breastfed = Follow your country’s guidance and the health worker’s advice.

## The sheet for a cooking demonstration

demo-heading = Cooking demonstration
demo-for-label = For
demo-for = { $n ->
    [one] { $count } child of { $ages }
   *[other] { $count } children of { $ages }
}
demo-each = Each child
demo-factor-label = Recipe
demo-factor = × { $n }
demo-weight = Weight
demo-bought = To buy
demo-plus = { $first } + { $second }
demo-kilograms = { $n } kg
demo-litres = { $n } litres
demo-more = { $n } more than the recipe asks
demo-less = { $n } less than the recipe asks
demo-before = Before you start
demo-pot = The pot must hold { $litres } or more, so that the food fills no more than two thirds of it.
demo-times = Cooking times stay as they are. Count them from when the food boils or the pan is hot; a large pot takes longer to get there.
demo-batches = What is fried, roasted or baked goes in by batches. The time is for each batch.
demo-dish = Make this first: { $dish }.
demo-practice = The pot’s size and the times: common practice, no source.
demo-rounded = Amounts are rounded to what can be measured: no line is off by more than { $n }.
demo-refuse = ≥ The peel and bones of this food are not counted: buy more.
demo-texts = Numbers in the words of the steps and tips are for the recipe as it was written.

## Pages for a browser

language-name = English
web-contents = Contents
web-around = Next pages
web-languages = In other languages
web-dishes = Dishes
web-days = Whole days
web-by-age = By age
web-by-food = By food

## A booklet

booklet-page = Page { $n }
booklet-contents = Contents
booklet-notes = Notes
booklet-dishes = { $n ->
    [one] 1 dish
   *[other] { $count } dishes
}
booklet-days = { $n ->
    [one] 1 whole day
   *[other] { $count } whole days
}
booklet-ages-alt = Months of age. The booklet is for { $text }.
booklet-measures = How to measure
booklet-level = Fill the spoon or cup until it runs over, then draw the back of a knife across the rim. That is a level measure. All measures on the cards are level unless they say “heaped”.
booklet-true-size = The spoons and the cup below are drawn at their true size. Lay your own on them.
booklet-check = { $cm } cm. If your ruler does not agree, the page was not printed at 100 %.
booklet-check-alt = A line of { $cm } cm, marked at each centimetre
booklet-spoon = A round spoon, { $width } mm wide inside and half as deep. A long or flat spoon of that width holds less.
booklet-spoon-alt = { $label }, from above and from the side, at true size: { $width } mm wide, { $depth } mm deep
booklet-cup = A cup with straight walls, { $width } mm wide inside, filled to { $height } mm.
booklet-cup-alt = { $label }, from the side, at true size: { $width } mm wide, { $height } mm high, with marks for parts of it
booklet-cup-mark = { $part } cup = { $ml }
booklet-own-cup = Your cup has another shape? { $ml } of water weigh { $grams }. Pour them in and mark the height on the wall.
booklet-spoons-in-spoon = A tablespoon holds { $n } teaspoons.
booklet-heaped = A heaped spoon or cup counts as { $n } level ones. What a heap holds depends on the food and the hand (common practice, no source).
booklet-pinch = A pinch is what thumb and finger hold: { $n } pinches fill a teaspoon.
booklet-nutrients = What a portion gives, dish by dish
booklet-nutrients-explain = The upper figure is the amount in one portion, the lower one the part of a day’s need. For a whole day, food and breast milk are counted together.
booklet-dish = Dish
booklet-index = Index
booklet-index-food = By food
booklet-index-age = By age
booklet-sources = Sources
booklet-guidance = Documents behind the needs, limits and rules
booklet-source = { $source }: { $n ->
    [one] 1 figure
   *[other] { $count } figures
}
booklet-source-open = { $source }: { $n ->
    [one] 1 figure
   *[other] { $count } figures
}, { $open } of them not yet checked
booklet-source-all-open = { $source }: { $n ->
    [one] 1 figure
   *[other] { $count } figures
}, not yet checked
booklet-dish-sources = Where the dishes come from
booklet-colophon = About this booklet
booklet-programme = Made by
booklet-source-label = Source
booklet-reviewed = Reviewed
booklet-profile = Guidance
booklet-edition = { $title }, edition { $edition } ({ $id })
booklet-amends = { $profile }, on { $base }
booklet-tables = Tables
booklet-usda = USDA National Nutrient Database for Standard Reference, release 28: { $n } foods, public domain.
booklet-retention = USDA Table of Nutrient Retention Factors, release 6, public domain.
booklet-table = Table { $table }: { $n } foods.
booklet-measures-label = Measures
booklet-type = Type
booklet-type-text = Andika, SIL International, SIL Open Font License 1.1.
booklet-made = Made with
booklet-print = Print at 100 %, without fitting to the page: the spoons and the cup are drawn at their true size.
