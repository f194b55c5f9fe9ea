# Words of the card in Amharic. A translator edits this file.
# DRAFT: written without a mother-tongue reader. Have one read every line, on a
# printed card, before anything in Amharic goes to families.
# Numbers arrive as text that is already written for the language; where the
# plural matters a number comes with them as $n. The verb of a step stands last
# (`sentence-order`), so "$what" brings all that stands before it.

## Ages and times

ages-label = ለእነዚህ ልጆች፦
ages-range = ከ{ $from } እስከ { $to } ወር
ages-one = { $from } ወር
ages-from = { $from } ወር እና ከዚያ በላይ
ages-alt = ዕድሜ በወር። ይህ ምግብ ለ{ $text } ልጆች ነው።
band = ከ{ $from } እስከ { $to } ወር

time-hands-on = የሥራ ጊዜ
time-total = ጠቅላላ ጊዜ
time-minutes = { $n } ደቂቃ
time-hours = { $n } ሰዓት
time-hour = { $n } ሰዓት
time-both = { $hours } ከ{ $minutes }
time-days = { $n ->
    [one] { $text } ቀን
   *[other] { $text } ቀናት
}
time-seconds = { $text } ሰከንድ
time-overnight = ሌሊቱን ሙሉ
time-whistles = { $n ->
    [one] { $text } ፉጨት
   *[other] { $text } ፉጨቶች
}
time-range = ከ{ $low } እስከ { $high }
time-open = ከዚህ ይረዝማል፦ አንዳንድ ደረጃዎች ጊዜ የላቸውም
start-evening = ከዋዜማው ማታ ይጀምሩ
start-days = { $n ->
    [one] ከአንድ ቀን በፊት ይጀምሩ
   *[other] ከ{ $count } ቀናት በፊት ይጀምሩ
}
start-early = ከምግቡ { $hours } ሰዓት በፊት ይጀምሩ

makes-label = የሚወጣው
portion-label = የልጁ አንድ ምግብ
usual-amount = { $amount } ገደማ

## Numbers, lists, amounts

range = ከ{ $low } እስከ { $high }
amount = { $number } { $unit }
amount-heaped = { $number } የተቆለለ { $unit }
amount-level = { $number } እኩል የሆነ { $unit }
amount-sized = { $number } { $size } { $unit }
amount-size-only = { $number } { $size }
amount-of-food = { $amount } { $food }
title-in-line = kept
portions-of = { $n ->
    [one] { $number } ድርሻ፣ እያንዳንዱ { $amount }
   *[other] { $number } ድርሻዎች፣ እያንዳንዱ { $amount }
}
portions = { $n ->
    [one] { $number } ድርሻ
   *[other] { $number } ድርሻዎች
}
portion-share = { $n ->
    [one] ምግቡ በሙሉ
   *[other] ከ{ $count } ድርሻ አንዱ
}
to-taste = እንደ ጣዕም
or = ወይም { $what }
comma = ፣
stop = ።
colon = ፦
grams = { $n } ግ
millilitres = { $n } ሚሊ

unit-cup = { $n ->
    [one] ኩባያ
   *[other] ኩባያዎች
}
unit-tbsp = { $n ->
    [one] የሾርባ ማንኪያ
   *[other] የሾርባ ማንኪያዎች
}
unit-tsp = { $n ->
    [one] የሻይ ማንኪያ
   *[other] የሻይ ማንኪያዎች
}
unit-mL = ሚሊ
unit-L = { $n ->
    [one] ሊትር
   *[other] ሊትር
}
unit-g = ግ
unit-kg = ኪግ
unit-mg = ሚግ
unit-cm = ሴሜ
unit-pinch = { $n ->
    [one] ቁንጥር
   *[other] ቁንጥር
}
unit-dash = { $n ->
    [one] ጠብታ ያህል
   *[other] ጠብታ ያህል
}
unit-handful = { $n ->
    [one] እፍኝ
   *[other] እፍኝ
}
unit-piece = { $n ->
    [one] ቁራጭ
   *[other] ቁራጮች
}
unit-clove = { $n ->
    [one] ፍልቃቂ
   *[other] ፍልቃቂዎች
}
unit-leaf = { $n ->
    [one] ቅጠል
   *[other] ቅጠሎች
}
unit-slice = { $n ->
    [one] ስስ ቁራጭ
   *[other] ስስ ቁራጮች
}
unit-bunch = { $n ->
    [one] እስር
   *[other] እስሮች
}
unit-stalk = { $n ->
    [one] ግንድ
   *[other] ግንዶች
}
unit-sprig = { $n ->
    [one] ቅርንጫፍ
   *[other] ቅርንጫፎች
}
unit-segment = { $n ->
    [one] ክፋይ
   *[other] ክፋዮች
}
unit-wedge = { $n ->
    [one] ክፋይ
   *[other] ክፋዮች
}
unit-head = { $n ->
    [one] ራስ
   *[other] ራሶች
}
unit-pod = { $n ->
    [one] ቅርፊት
   *[other] ቅርፊቶች
}
unit-cob = { $n ->
    [one] የበቆሎ ራስ
   *[other] የበቆሎ ራሶች
}
unit-fillet = { $n ->
    [one] አጥንት የሌለው ሥጋ
   *[other] አጥንት የሌላቸው ሥጋዎች
}
unit-stick = { $n ->
    [one] ዘንግ
   *[other] ዘንጎች
}
unit-cube = { $n ->
    [one] ጥርብ ቁራጭ
   *[other] ጥርብ ቁራጮች
}
unit-drop = { $n ->
    [one] ጠብታ
   *[other] ጠብታዎች
}
size-small = ትንሽ
size-medium = መካከለኛ
size-large = ትልቅ

measure-alt = { $amount }፣ እስከሚሞላው ድረስ የተሳለ

## Sections

ingredients-label = የሚያስፈልገው
family-title = ለቤተሰቡ ብቻ፣ የልጁ ምግብ ለብቻ ከተቀመጠ በኋላ
method-label = አሠራሩ
serve-label = ሲያቀርቡ
store-label = ሲያስቀምጡ
tip-label = ምክር
caution-label = ይጠንቀቁ
note-label = ማስታወሻ

## Steps

set-aside = አሁን የልጁን ድርሻ ለብቻ ያስቀምጡ።
set-aside-why = ከዚህ በኋላ የሚጨመረው ለቀሪው ቤተሰብ ነው።
unattended = አጠገቡ መቆም አያስፈልግም።
everything = ሁሉንም
the-rest = የቀረውን
child-portion = የልጁን ድርሻ
the-pot = ምግቡን
the-batter = ቀጭኑን ሊጥ
the-dough = ሊጡን
the-porridge = ገንፎውን
sentence-order = verb-last
ingredient-order = amount-first
water = ውሃ
piece-with = ከ{ $what } ጋር
piece-with-fill = በ{ $what }
piece-in = በ{ $what } ውስጥ
piece-heat-low = በዝቅተኛ እሳት
piece-heat-medium = በመካከለኛ እሳት
piece-heat-high = በከፍተኛ እሳት
piece-celsius = በ{ $n } °C
until = { $cue } ድረስ
sentence-join = { $first } { $rest }

do-wash = { $what } ይጠቡ
do-rinse = { $what } ያለቅልቁ
do-clean = { $what } ያጽዱ
do-sort = { $what } ይልቀሙ
do-peel = { $what } ይላጡ
do-trim = { $what } ጫፉን ቆርጠው ያጽዱ
do-shell = { $what } ይፈልፍሉ
do-stone = { $what } ፍሬውን ያውጡ
do-bone = { $what } አጥንቱን በሙሉ ያውጡ
do-crumble = { $what } በትንንሹ ይፈርፍሩ
do-flake = { $what } ይፈርፍሩ
do-scoop = { $what } በማንኪያ ያውጡ
do-halve = { $what } ለሁለት ይክፈሉ
do-quarter = { $what } ለአራት ይክፈሉ
do-cut = { $what } ይቁረጡ
do-slice = { $what } በስሱ ይቁረጡ
do-dice = { $what } በትንንሽ ጥርብ ይቁረጡ
do-chop = { $what } ይክተፉ
do-shred = { $what } በቀጫጭን ይቁረጡ
do-mince = { $what } በጣም አድቅቀው ይክተፉ
do-grate = { $what } ይፋቁ
do-mash = { $what } ያድቅቁ
do-crush = { $what } ይጭፈልቁ
do-pound = { $what } ይውቀጡ
do-press = { $what } ይጫኑ
do-squeeze = { $what } ይጭመቁ
do-puree = { $what } እስኪለሰልስ ያድቅቁ
do-blend = { $what } በመፍጫ ይምቱ
do-grind = { $what } ይፍጩ
do-mill = { $what } በወፍጮ ይፍጩ
do-sieve = { $what } ይንፉ
do-strain = { $what } ያጥሉ
do-beat = { $what } ይምቱ
do-whisk = { $what } ይምቱ
do-knead = { $what } ያቡኩ
do-roll = { $what } ይዳምጡ
do-shape = { $what } ቅርጽ ያስይዙ
do-dry = { $what } ያድርቁ
do-soak = { $what } ይዘፍዝፉ
do-drain = { $what } ውሃውን ያፍስሱ
do-sprout = { $what } ያብቅሉ
do-ferment = { $what } እንዲቦካ ይተዉ
do-rest = { $what } ለጥቂት ጊዜ ይተዉ
do-stand = { $what } ለጥቂት ጊዜ ይተዉ
do-leave = { $what } ይተዉ
do-boil = { $what } ይቀቅሉ
do-cook = { $what } ያብስሉ
do-blanch = { $what } በሚፈላ ውሃ ውስጥ ይንከሩ
do-simmer = { $what } በቀስታ እያንተከተኩ ያብስሉ
do-stew = { $what } በመረቅ ያብስሉ
do-braise = { $what } በጥቂት ውሃ ከድነው ያብስሉ
do-poach = { $what } በማይፈላ ሙቅ ውሃ ያብስሉ
do-thicken = { $what } እስኪወፍር ያብስሉ
do-steam = { $what } በእንፋሎት ያብስሉ
do-pressure-cook = { $what } በግፊት ማብሰያ ያብስሉ
do-fry = { $what } ይጥበሱ
do-deep-fry = { $what } በብዙ ዘይት ይጥበሱ
do-brown = { $what } እስኪጠይም ይጥበሱ
do-scramble = { $what } እያማሰሉ ይጥበሱ
do-stir-fry = { $what } እያማሰሉ ይጥበሱ
do-saute = { $what } በቀስታ ይጥበሱ
do-soften = { $what } በመጥበሻ ያለስልሱ
do-roast = { $what } ይጥበሱ
do-grill = { $what } በፍም ይጥበሱ
do-bake = { $what } በምድጃ ይጋግሩ
do-toast = { $what } ይቁሉ
do-dry-roast = { $what } በደረቅ መጥበሻ ይቁሉ
do-warm = { $what } ለብ ያድርጉ
do-reheat = { $what } እንደገና ያሙቁ
do-heat = { $what } ያሙቁ
do-melt = { $what } ያቅልጡ
do-add = { $what } ይጨምሩ
do-pour = { $what } ያፍስሱ
do-put = { $what } ያስገቡ
do-place = { $what } ያስቀምጡ
do-sprinkle = { $what } ከላይ ይነስንሱ
do-top = { $what } ከላይ ያድርጉ
do-season = { $what } ለጣዕም ይጨምሩ
do-mix = { $what } ይቀላቅሉ
do-stir = { $what } ያማስሉ
do-combine = { $what } አንድ ላይ ያድርጉ
do-fold = { $what } በቀስታ ይቀላቅሉ
do-dissolve = { $what } ያሟሙ
do-fill = { $what } ይሙሉ
do-spread = { $what } ያሰራጩ
do-wrap = { $what } ይጠቅልሉ
do-coat = { $what } ይለብጡ
do-divide = { $what } ያካፍሉ
do-cover = { $what } ይክደኑ
do-cool = { $what } ያቀዝቅዙ
do-set-aside = { $what } ለብቻ ያስቀምጡ
do-serve = { $what } ያቅርቡ
do-feed = { $what } ለልጁ ይመግቡ

cue-soft = እስኪለሰልስ
cue-very-soft = በጣም እስኪለሰልስ
cue-tender = እስኪበስል
cue-thick = እስኪወፍር
cue-smooth = እስኪላም
cue-done = እስኪደርስ
cue-cooked = እስኪበስል
cue-firm = እስኪጠነክር
cue-golden = ወርቃማ እስኪሆን
cue-hot = እስኪሞቅ
cue-warm = ለብ እስኪል
cue-cool = እስኪቀዘቅዝ
cue-dry = እስኪደርቅ
cue-wilted = እስኪጠወልግ
cue-it-thickens = እስኪወፍር
cue-it-boils = እስኪፈላ

## States of food

state-dry = ደረቅ
state-dried = የደረቀ
state-raw = ጥሬ
state-cooked = የበሰለ
state-boiled = የተቀቀለ
state-roasted = የተጠበሰ
state-toasted = የተቆላ
state-fried = በዘይት የተጠበሰ
state-steamed = በእንፋሎት የበሰለ
state-baked = የተጋገረ
state-smoked = በጭስ የደረቀ
state-tinned = የታሸገ
state-canned = የታሸገ
state-sprouted = የበቀለ
state-fermented = የቦካ
state-peeled = የተላጠ
state-unpeeled = ከነልጣጩ
state-cubed = በጥርብ የተቆረጠ
state-diced = በትንንሽ ጥርብ የተቆረጠ
state-chopped = የተከተፈ
state-finely-chopped = አድቅቆ የተከተፈ
state-sliced = በስሱ የተቆረጠ
state-grated = የተፋቀ
state-mashed = የደቀቀ
state-ground = የተፈጨ
state-minced = ተፈጭቶ የተከተፈ
state-whole = ያልተቆረጠ
state-halved = ለሁለት የተከፈለ
state-quartered = ለአራት የተከፈለ
state-boned = አጥንት የሌለው
state-shelled = የተፈለፈለ
state-pitted = ፍሬው የወጣ
state-washed = የታጠበ
state-smooth = የላመ
state-ripe = የበሰለ ፍሬ
state-fresh = ትኩስ
state-young = ለጋ
state-flaked = የተፈረፈረ
state-pounded = የተወቀጠ
state-shredded = በቀጫጭን የተቆረጠ
state-iodised = አዮዲን ያለው
state-pasteurised = በሙቀት የታከመ
state-soft = ለስላሳ
state-split = የተከካ
state-plain = ምንም ያልተጨመረበት
state-powdered = ዱቄት

## Cautions that rules put beside a step

caution-raw-kidney-bean = ይህን ባቄላ ግማሽ በስሎ ፈጽሞ አይብሉ። ይዘፍዝፉ፣ ውሃውን ይድፉ፣ ቢያንስ ለ{ $minutes } ደቂቃ በደንብ እየፈላ ያቆዩት።
caution-raw-meat = ቀይ እስከማይቀርና ጭማቂው ንጹህ እስኪሆን ያብስሉ።
caution-raw-fish = ሥጋው እስኪጠነክርና እስኪላቀቅ ያብስሉ።
caution-raw-fish-dried = የደረቀ ዓሣ ጥሬ ነው። እስኪሰበር ይቁሉት ወይም እስኪለሰልስ ይቀቅሉት።
caution-raw-egg = እንቁላሉ በሙሉ እስኪረጋ ያብስሉ። ምንም ፈሳሽ አይቅር።
caution-raw-milk = ለልጁ ከመስጠትዎ በፊት ወተቱን ያፍሉ።
caution-choke-bones = በንጹህ ጣቶች አጥንት ይፈልጉ። እያንዳንዱን ያውጡ።
caution-nut-paste = ቅቤውን በደንብ ይቀላቅሉ። በማንኪያ ብቻውን ፈጽሞ አይስጡ።
caution-raw-cassava = ካሳቫውን ልጠው በደንብ ያብስሉ። ጥሬውን ፈጽሞ አይስጡ። መራራ ካሳቫ ፈጽሞ አይጠቀሙ።
caution-mould-prone = { $what } ከመጠቀምዎ በፊት የሻገተውን፣ የተጨማደደውን ወይም የመረረውን ይጣሉ።
caution-liver = ብዙ ጉበት ልጁን ሊጎዳ ይችላል፦ መጠኑን ይጠብቁ፣ በሳምንት ከአንድ ጊዜ በላይ አይስጡ።
caution-nitrate-leaf = ቅጠል ያለበትን ምግብ እንደተዘጋጀ ይብሉ። እያሞቁ አያቆዩት።
caution-first-time = ለመጀመሪያ ጊዜ { $what } ያለበትን ምግብ ጥቂት ብቻ ይስጡ። ሽፍታ ወይም እብጠት ይከታተሉ።

## The back

back-title = አንድ ድርሻ የሚሰጠው
back-explain = እያንዳንዱ አሞሌ አንድ ድርሻ የሚሸፍነው የቀኑ ፍላጎት ክፍል ነው።
energy-label = ኃይል
energy-explain = የኃይል ፍላጎቱ ከእናት ጡት ወተት ሌላ ምግብ በቀን ሊሰጠው የሚገባው ነው።
energy-density = { $n } kcal/g
kcal = { $n } kcal
kJ = { $n } kJ
percent = { $n }%
at-least = ቢያንስ
unknown = አይታወቅም
no-need-set = ፍላጎት አልተወሰነም
limit-most = በቀን ቢበዛ { $amount }

group-energy-growth = ኃይልና ዕድገት
group-blood = ደም
group-eyes-defence = ዓይንና መከላከያ
group-bones = አጥንት
group-nerves = ነርቮች
group-salt = ጨው
group-other = ሌሎች

nutrient-PROCNT = ፕሮቲን
nutrient-FAT = ስብ
nutrient-FIBTG = አሰር
nutrient-ZN = ዚንክ
nutrient-FE = ብረት
nutrient-FOLDFE = ፎሌት
nutrient-FOL = ፎሌት
nutrient-VITB12 = ቫይታሚን B12
nutrient-VITC = ቫይታሚን C
nutrient-CU = መዳብ
nutrient-VITA_RAE = ቫይታሚን A
nutrient-CA = ካልሲየም
nutrient-P = ፎስፈረስ
nutrient-MG = ማግኒዥየም
nutrient-VITD = ቫይታሚን D
nutrient-THIA = ታያሚን
nutrient-RIBF = ራይቦፍላቪን
nutrient-NIA = ናያሲን
nutrient-VITB6A = ቫይታሚን B6
nutrient-CHOLN = ኮሊን
nutrient-NA = ሶዲየም
nutrient-K = ፖታሲየም
nutrient-SE = ሴሊኒየም
nutrient-ID = አዮዲን
nutrient-TOCPHA = ቫይታሚን E
nutrient-VITK1 = ቫይታሚን K
nutrient-MN = ማንጋኒዝ
nutrient-PANTAC = ፓንቶቴኒክ አሲድ
nutrient-SUGAR = ስኳሮች
nutrient-F18D3CN3 = ኦሜጋ-3
nutrient-F18D2 = ኦሜጋ-6

food-groups-title = በዚህ ምግብ ያሉ የምግብ ምድቦች
food-group-breast-milk = የእናት ጡት ወተት
food-group-grains = እህሎች፣ ሥራሥሮች
food-group-pulses = ጥራጥሬ፣ ለውዝ፣ የቅባት እህሎች
food-group-dairy = የወተት ውጤቶች
food-group-flesh = ሥጋ፣ ዓሣ፣ ጉበት
food-group-eggs = እንቁላል
food-group-vitamin-a = ቫይታሚን A ያላቸው ፍራፍሬና አትክልት
food-group-other-plants = ሌሎች ፍራፍሬና አትክልት

allergens-title = የያዘው
allergens-none = ከተዘረዘሩት አለርጂ አምጪዎች አንዱንም አልያዘም
allergens-family = በቤተሰቡ ድርሻ ብቻ
allergen-gluten = ግሉተን
allergen-crustacea = ሽሪምፕና ክራብ
allergen-eggs = እንቁላል
allergen-fish = ዓሣ
allergen-peanuts = ኦቾሎኒ
allergen-milk = ወተት
allergen-sesame = ሰሊጥ
allergen-tree-nuts = የዛፍ ለውዞች
allergen-soya = አኩሪ አተር
allergen-oats = አጃ
allergen-buckwheat = ባክዊት
allergen-celery = ሰለሪ
allergen-lupin = ግብጦ
allergen-mustard = ሰናፍጭ
allergen-molluscs = የዛጎል እንስሳት
allergen-sulphite = ሰልፋይት

claims-title = አባባሎችና መሠረታቸው
claim-source-of = የ{ $what } ምንጭ
claim-rich-in = በ{ $what } የበለጸገ
claim-low-in = { $what } ያነሰው
claim-free-of = { $what } የሌለው
claim-basis = { $ages }፦ በድርሻ { $value }፣ የሚያስፈልገው { $threshold }
claim-basis-bound = { $ages }፦ በድርሻ ቢያንስ { $value }፣ የሚያስፈልገው { $threshold }
claim-basis-100g = በ100 ግ { $value }፣ የሚፈቀደው ቢበዛ { $threshold }
claims-note = ለቤት ምግብ ሥራ። ለትንንሽ ልጆች የታሸገ ምግብ የአገሩ ሕግ ካልፈቀደ ይህን ሊል አይችልም (Codex CXG 23-1997, 1.4)።

texture-title = ምን ያህል ለስላሳ
texture-thick-mashed = ወፍራምና በደንብ የደቀቀ፤ ማንኪያ ላይ የሚቆይ።
texture-minced-finger = አድቅቆ የተከተፈ ወይም የደቀቀ፣ በእጅ የሚያዙ ለስላሳ ቁራጮች ያሉት።
texture-family-chopped = የቤተሰብ ምግብ፣ እንደ አስፈላጊነቱ የተከተፈ ወይም የደቀቀ።

figures-title = ቁጥሮቹ ከየት እንደመጡ
figures-usda = ይዘት፦ USDA SR28 (የሕዝብ ንብረት)።
figures-table = ይዘት፦ ሠንጠረዥ { $table }።
figures-dish = አንዱ ክፍል ሌላ ምግብ ነው፦ { $dish }።
figures-borrowed = ለእነዚህ የሚመስል ምግብ ቁጥር ተወስዷል፦ { $foods }።
figures-retention = በማብሰል የሚቀንስ፦ የUSDA መጠኖች፣ ስድስተኛ እትም።
figures-measures = 1 ኩባያ = { $cup } ሚሊ፣ 1 የሾርባ ማንኪያ = { $tbsp } ሚሊ፣ 1 የሻይ ማንኪያ = { $tsp } ሚሊ።
figures-profile = ፍላጎቶች፦ { $title }፣ እትም { $edition }።
figures-profile-amended = ፍላጎቶች፦ { $title }፣ እትም { $edition }፣ በ{ $base } እትም { $base_edition } ላይ።
profile-cautious-international = ዓለም አቀፍ መመሪያ፣ ይበልጥ ጥንቃቄ ያላቸው አሃዞች
figures-switched-off = እዚህ የተዘጋ፦ { $rule } ({ $reason })።
figures-lowered = እዚህ በቀላሉ የሚዳኝ፦ { $rule } ({ $reason })።
figures-cooked-weighed = የበሰለው ክብደት ተለክቷል።
figures-cooked-estimated = የበሰለው ክብደት፣ { $grams }፣ ግምት ነው።
figures-estimated = ≈ ክብደቱ ግምት እንደሆነ ያሳያል።
figures-at-least = “ቢያንስ”፦ የአንዱ ምግብ ቁጥር አይታወቅም።
figures-volume-assumed = የድርሻው ክብደት ግምት ነው።
figures-reviewed = በ{ $date } የገመገመው፦ { $by }።
figures-reviewed-date = በ{ $date } ተገምግሟል።
figures-source = የምግቡ ምንጭ፦ { $source }።
figures-program = በPorringer { $version } የተሠራ።

standing-guidance = የአገርዎን መመሪያና የጤና ባለሙያውን ምክር ይከተሉ። ጡት ማጥባትዎን ይቀጥሉ።
standing-help = ልጁ ሲበላ አብረውት ይሁኑ። ካነቀው፣ ሽፍታ ወይም እብጠት ካለው ወይም ከታመመ ወዲያውኑ እርዳታ ያግኙ።
absorption-helps-flesh = በዚህ ምግብ ያለው ሥጋ ወይም ዓሣ ሰውነት ብረትና ዚንክ እንዲወስድ ሊረዳ ይችላል።
absorption-helps-vitamin-c = በዚህ ምግብ ያለው ቫይታሚን C ሰውነት ብረት እንዲወስድ ሊረዳ ይችላል።
absorption-hinders-phytate = በዚህ ምግብ ያለው ፋይቴት ዚንክ፣ ብረት ወይም ካልሲየም እንዳይወሰድ ሊያግድ ይችላል።
absorption-hinders-tea = በዚህ ምግብ ያለው ሻይ ወይም ቡና ብረት እንዳይወሰድ ሊያግድ ይችላል።
standing-figures = ቁጥሮቹ የተሰሉ እንጂ የተለኩ አይደሉም። ለአንድ ልጅ የሚሰጥ ምክርን አይተኩም።

## A day's menu

menu-ages-alt = ዕድሜ በወር። ይህ ቀን ለ{ $text } ልጆች ነው።
menu-breastfed = ጡት የሚጠባ
menu-not-breastfed = ጡት የማይጠባ
menu-strip-alt = ቀኑ እንደ መስመር፣ ልጁ በሚበላበት ምልክት ያለው፦ { $times }።
menu-eat-label = ልጁ የሚበላው
menu-breast-milk = የእናት ጡት ወተት ቀንና ሌሊት፣ ልጁ በፈለገ ጊዜ ሁሉ።
menu-work-label = የማብሰያ ቀን
menu-day-before = በዋዜማው፣ { $time }
menu-days-before = ከ{ $n } ቀናት በፊት፣ { $time }
menu-work-wait = { $what }፦ { $time }። ለ፦ { $meals }።
menu-work-pot = አንድ ድስት ለ፦ { $meals }። { $what }፦ { $time }።
menu-work-cook = “{ $dish }” ይጀምሩ፦ { $time }። ለ፦ { $meals }።
menu-work-cook-hands = “{ $dish }” ይጀምሩ፦ { $time }፣ ከዚህ { $work } ሥራ። ለ፦ { $meals }።
clock = { $hour }:{ $minute }
clock-hour = { $hour }
clock-morning = ጠዋት
clock-noon = ከሰዓት
clock-evening = ማታ
clock-night = ሌሊት
meal-meal = ምግብ
meal-snack = መክሰስ
meal-breakfast = ቁርስ
meal-lunch = ምሳ
meal-supper = እራት
meal-dinner = እራት
meal-morning = ጠዋት
meal-mid-morning = ረፋድ
meal-midday = ቀትር
meal-afternoon = ከሰዓት በኋላ
meal-evening = ምሽት
meal-bedtime = ከመኝታ በፊት
menu-back-title = ቀኑ የሚሰጠው
menu-back-explain = እያንዳንዱ አሞሌ ምግብና የእናት ጡት ወተት አብረው የሚሸፍኑት የቀኑ ፍላጎት ክፍል ነው።
menu-back-explain-not-breastfed = እያንዳንዱ አሞሌ ምግቡ የሚሸፍነው የቀኑ ፍላጎት ክፍል ነው።
menu-energy-food = ከምግብ የሚገኝ ኃይል
menu-energy-all = ጠቅላላ ኃይል
menu-groups-title = የምግብ ምድቦች፦ ከ{ $all } { $n }፤ ቢያንስ { $needed } ያስፈልጋል
menu-times = ምግቦች፦ { $meals }። መክሰሶች፦ { $snacks }። ልጁ በቀን ቢያንስ { $needed } ጊዜ መብላት አለበት።
menu-short-title = የጎደለውና የሚረዳው
menu-short-line = { $what } { $share }፦ { $foods } ይሞላዋል።
menu-short-line-none = { $what } { $share }፦ ምግብ ብቻውን አይሞላውም፤ ስለ ተጨማሪ ንጥረ ነገር ይጠይቁ።
menu-short-none = እዚህ ከሚታየው የጎደለ የለም።
figures-menu-dishes = የምግቦቹ ቁጥሮች በየራሳቸው ካርድ ላይ ናቸው።
figures-milk = የእናት ጡት ወተት፣ { $ages }፦ በአማካይ በቀን { $ml } እና { $kcal } ({ $source }፣ { $year }፤ መጠኑ { $status })፤ ይዘቱ፦ USDA SR28 ረድፍ 1107።
figures-breastfed-assumed = ጡት ለሚጠባ ልጅ ተሰልቷል፤ ዝርዝሩ ይህን አይናገርም።
figures-menu-source = የዝርዝሩ ምንጭ፦ { $source }።
status-checked = የተረጋገጠ
status-computed = የተሰላ
status-memory = ገና ያልተረጋገጠ
standing-guidance-not-breastfed = የአገርዎን መመሪያና የጤና ባለሙያውን ምክር ይከተሉ።

## The sheet for a cooking demonstration

demo-heading = የምግብ አሠራር ማሳያ
demo-for-label = ለ
demo-for = { $n ->
    [one] ከ{ $ages } ለሆኑ { $count } ልጅ
   *[other] ከ{ $ages } ለሆኑ { $count } ልጆች
}
demo-each = ለእያንዳንዱ ልጅ
demo-factor-label = አሠራሩ
demo-factor = × { $n }
demo-weight = ክብደት
demo-bought = የሚገዛ
demo-plus = { $first } + { $second }
demo-kilograms = { $n } ኪግ
demo-litres = { $n } ሊትር
demo-more = ከአሠራሩ { $n } ይበልጣል
demo-less = ከአሠራሩ { $n } ያንሳል
demo-before = ከመጀመርዎ በፊት
demo-pot = ምግቡ ከድስቱ ሁለት ሦስተኛ በላይ እንዳይሞላ፣ ድስቱ { $litres } ወይም ከዚያ በላይ መያዝ አለበት።
demo-times = የማብሰያ ጊዜዎቹ አይለወጡም። ምግቡ ከፈላ ወይም መጥበሻው ከጋለ ጀምሮ ይቁጠሩ፤ ትልቅ ድስት ለመሞቅ ይዘገያል።
demo-batches = የሚጠበስ ወይም የሚጋገር በየተራ ይግባ። ጊዜው ለእያንዳንዱ ተራ ነው።
demo-dish = ይህን መጀመሪያ ይሥሩ፦ { $dish }።
demo-practice = የድስቱ መጠንና ጊዜዎቹ፦ የተለመደ አሠራር፣ ምንጭ የለውም።
demo-rounded = መጠኖቹ ሊለኩ እንዲችሉ ተጠጋግተዋል፦ ማንኛውም መስመር ከ{ $n } በላይ አይለይም።
demo-refuse = ≥ የዚህ ምግብ ልጣጭና አጥንት አልተቆጠረም፦ ጨምረው ይግዙ።
demo-texts = በደረጃዎቹና በምክሮቹ ውስጥ ያሉት ቁጥሮች ለመጀመሪያው አሠራር ናቸው።

## Pages for a browser

language-name = አማርኛ
web-contents = ማውጫ
web-around = ቀጣይ ገጾች
web-languages = በሌሎች ቋንቋዎች
web-dishes = ምግቦች
web-days = ሙሉ ቀናት
web-by-age = በዕድሜ
web-by-food = በምግብ ዓይነት

## A booklet

booklet-page = ገጽ { $n }
booklet-contents = ማውጫ
booklet-notes = ማስታወሻዎች
booklet-dishes = { $n ->
    [one] 1 ምግብ
   *[other] { $count } ምግቦች
}
booklet-days = { $n ->
    [one] 1 ሙሉ ቀን
   *[other] { $count } ሙሉ ቀናት
}
booklet-ages-alt = ዕድሜ በወር። ይህ መጽሐፍ ለ{ $text } ልጆች ነው።
booklet-measures = እንዴት እንደሚለካ
booklet-level = ማንኪያውን ወይም ኩባያውን እስኪፈስ ይሙሉ፣ ከዚያ የቢላ ጀርባ በጠርዙ ላይ ያሻግሩ። ይህ እኩል መለኪያ ነው። “የተቆለለ” ካላለ በስተቀር በካርዶቹ ላይ ያሉ መለኪያዎች ሁሉ እኩል ናቸው።
booklet-true-size = ከታች ያሉት ማንኪያዎችና ኩባያው በእውነተኛ መጠናቸው ተስለዋል። የእርስዎን በላያቸው ያስቀምጡ።
booklet-check = { $cm } ሴሜ። ማስመሪያዎ ካልተስማማ ገጹ በ100 % አልታተመም።
booklet-check-alt = የ{ $cm } ሴሜ መስመር፣ በየሴንቲሜትሩ ምልክት ያለው
booklet-spoon = ክብ ማንኪያ፣ ውስጡ { $width } ሚሜ ስፋት እና የዚያ ግማሽ ጥልቀት ያለው። በዚያ ስፋት ረጅም ወይም ጠፍጣፋ ማንኪያ ያነሰ ይይዛል።
booklet-spoon-alt = { $label }፣ ከላይና ከጎን፣ በእውነተኛ መጠን፦ { $width } ሚሜ ስፋት፣ { $depth } ሚሜ ጥልቀት
booklet-cup = ቀጥ ያለ ግድግዳ ያለው ኩባያ፣ ውስጡ { $width } ሚሜ ስፋት፣ እስከ { $height } ሚሜ የተሞላ።
booklet-cup-alt = { $label }፣ ከጎን፣ በእውነተኛ መጠን፦ { $width } ሚሜ ስፋት፣ { $height } ሚሜ ከፍታ፣ የክፍሎቹ ምልክቶች ያሉት
booklet-cup-mark = { $part } ኩባያ = { $ml }
booklet-own-cup = ኩባያዎ ሌላ ቅርጽ አለው? { $ml } ውሃ { $grams } ይመዝናል። ያፍስሱትና ከፍታውን በግድግዳው ላይ ምልክት ያድርጉ።
booklet-spoons-in-spoon = አንድ የሾርባ ማንኪያ { $n } የሻይ ማንኪያ ይይዛል።
booklet-heaped = የተቆለለ ማንኪያ ወይም ኩባያ እንደ { $n } እኩል ይቆጠራል። ቁልሉ የሚይዘው በምግቡና በእጁ ይወሰናል (የተለመደ አሠራር፣ ምንጭ የለውም)።
booklet-pinch = ቁንጥር በአውራ ጣትና በጣት የሚያዝ ነው፦ { $n } ቁንጥር አንድ የሻይ ማንኪያ ይሞላል።
booklet-nutrients = የእያንዳንዱ ምግብ ድርሻ የሚሰጠው
booklet-nutrients-explain = የላይኛው ቁጥር በአንድ ድርሻ ያለው መጠን ነው፣ የታችኛው የቀኑ ፍላጎት ክፍል ነው። ለሙሉ ቀን ምግብና የእናት ጡት ወተት አብረው ተቆጥረዋል።
booklet-dish = ምግብ
booklet-index = መጠቆሚያ
booklet-index-food = በምግብ ዓይነት
booklet-index-age = በዕድሜ
booklet-sources = ምንጮች
booklet-guidance = ከፍላጎቶች፣ ከገደቦችና ከደንቦች ጀርባ ያሉ ሰነዶች
booklet-source = { $n ->
    [one] { $source }፦ 1 ቁጥር
   *[other] { $source }፦ { $count } ቁጥሮች
}
booklet-source-open = { $n ->
    [one] { $source }፦ 1 ቁጥር፣ ከእነዚህ { $open } ገና አልተረጋገጡም
   *[other] { $source }፦ { $count } ቁጥሮች፣ ከእነዚህ { $open } ገና አልተረጋገጡም
}
booklet-source-all-open = { $n ->
    [one] { $source }፦ 1 ቁጥር፣ ገና አልተረጋገጠም
   *[other] { $source }፦ { $count } ቁጥሮች፣ ገና አልተረጋገጡም
}
booklet-dish-sources = ምግቦቹ ከየት እንደመጡ
booklet-colophon = ስለዚህ መጽሐፍ
booklet-programme = ያዘጋጀው
booklet-source-label = ምንጭ
booklet-reviewed = የተገመገመ
booklet-profile = መመሪያ
booklet-edition = { $title }፣ እትም { $edition } ({ $id })
booklet-amends = { $profile }፣ በ{ $base } ላይ
booklet-tables = ሠንጠረዦች
booklet-usda = USDA National Nutrient Database for Standard Reference, release 28፦ { $n } ምግቦች፣ የሕዝብ ንብረት።
booklet-retention = USDA Table of Nutrient Retention Factors, release 6፣ የሕዝብ ንብረት።
booklet-table = ሠንጠረዥ { $table }፦ { $n } ምግቦች።
booklet-measures-label = መለኪያዎች
booklet-type = የፊደል ዓይነት
booklet-type-text = Andika, SIL International, SIL Open Font License 1.1.
booklet-made = የተሠራበት
booklet-print = በ100 % ያትሙ፣ ከገጹ ጋር አያመጣጥኑ፦ ማንኪያዎቹና ኩባያው በእውነተኛ መጠናቸው ተስለዋል።
