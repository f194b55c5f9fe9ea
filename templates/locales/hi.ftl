# Words of the card in Hindi. A translator edits this file.
# DRAFT: written without a mother-tongue reader. Have one read every line, on a
# printed card, before anything in Hindi goes to families.
# Numbers arrive as text that is already written for the language; where the
# plural matters a number comes with them as $n. The verb of a step stands last
# (`sentence-order`), so "$what" brings all that stands before it.

## Ages and times

ages-label = इन बच्चों के लिए:
ages-range = { $from } से { $to } महीने
ages-one = { $from } महीने
ages-from = { $from } महीने और उससे बड़े
ages-alt = उम्र महीनों में। यह खाना { $text } के बच्चों के लिए है।
band = { $from } से { $to } महीने

time-hands-on = काम
time-total = कुल समय
time-minutes = { $n } मिनट
time-hours = { $n } घंटे
time-hour = { $n } घंटा
time-both = { $hours } { $minutes }
time-days = { $text } दिन
time-seconds = { $text } सेकंड
time-overnight = रात भर
time-whistles = { $n ->
    [one] { $text } सीटी
   *[other] { $text } सीटियाँ
}
time-range = { $low } से { $high }
time-open = इससे ज़्यादा: कुछ चरणों का समय नहीं दिया है
start-evening = एक शाम पहले शुरू करें
start-days = { $n ->
    [one] एक दिन पहले शुरू करें
   *[other] { $count } दिन पहले शुरू करें
}
start-early = खाने से { $hours } घंटे पहले शुरू करें

makes-label = बनता है
portion-label = बच्चे का एक बार का खाना
usual-amount = लगभग { $amount }

## Numbers, lists, amounts

range = { $low } से { $high }
amount = { $number } { $unit }
amount-heaped = { $number } { $unit }, ऊपर तक भरकर
amount-level = { $number } { $unit }, समतल
amount-sized = { $number } { $size } { $unit }
amount-size-only = { $number } { $size }
amount-of-food = { $amount } { $food }
title-in-line = kept
portions-of = { $n ->
    [one] { $amount } के { $number } हिस्सा
   *[other] { $amount } के { $number } हिस्से
}
portions = { $n ->
    [one] { $number } हिस्सा
   *[other] { $number } हिस्से
}
portion-share = { $n ->
    [one] पूरा खाना
   *[other] { $count } में से 1 हिस्सा
}
to-taste = स्वाद के अनुसार
or = या { $what }
comma = ,
stop = ।
colon = :
grams = { $n } ग्राम
millilitres = { $n } मिली

unit-cup = { $n ->
    [one] कप
   *[other] कप
}
unit-tbsp = { $n ->
    [one] बड़ा चम्मच
   *[other] बड़े चम्मच
}
unit-tsp = { $n ->
    [one] छोटा चम्मच
   *[other] छोटे चम्मच
}
unit-mL = मिली
unit-L = { $n ->
    [one] लीटर
   *[other] लीटर
}
unit-g = ग्राम
unit-kg = किलो
unit-mg = मिलीग्राम
unit-cm = सेमी
unit-pinch = { $n ->
    [one] चुटकी
   *[other] चुटकी
}
unit-dash = { $n ->
    [one] बूँद भर
   *[other] बूँद भर
}
unit-handful = { $n ->
    [one] मुट्ठी
   *[other] मुट्ठी
}
unit-piece = { $n ->
    [one] टुकड़ा
   *[other] टुकड़े
}
unit-clove = { $n ->
    [one] कली
   *[other] कलियाँ
}
unit-leaf = { $n ->
    [one] पत्ता
   *[other] पत्ते
}
unit-slice = { $n ->
    [one] फाँक
   *[other] फाँकें
}
unit-bunch = { $n ->
    [one] गुच्छा
   *[other] गुच्छे
}
unit-stalk = { $n ->
    [one] डंठल
   *[other] डंठल
}
unit-sprig = { $n ->
    [one] टहनी
   *[other] टहनियाँ
}
unit-segment = { $n ->
    [one] फाँक
   *[other] फाँकें
}
unit-wedge = { $n ->
    [one] फाँक
   *[other] फाँकें
}
unit-head = { $n ->
    [one] गाँठ
   *[other] गाँठें
}
unit-pod = { $n ->
    [one] फली
   *[other] फलियाँ
}
unit-cob = { $n ->
    [one] भुट्टा
   *[other] भुट्टे
}
unit-fillet = { $n ->
    [one] बिना काँटे का टुकड़ा
   *[other] बिना काँटे के टुकड़े
}
unit-stick = { $n ->
    [one] डंडी
   *[other] डंडियाँ
}
unit-cube = { $n ->
    [one] चौकोर टुकड़ा
   *[other] चौकोर टुकड़े
}
unit-drop = { $n ->
    [one] बूँद
   *[other] बूँदें
}
size-small = छोटे आकार
size-medium = मध्यम आकार
size-large = बड़े आकार

measure-alt = { $amount }, जितना भरना है उतना बना चित्र

## Sections

ingredients-label = क्या चाहिए
family-title = सिर्फ़ परिवार के लिए, बच्चे का खाना अलग रखने के बाद
method-label = कैसे बनाएँ
serve-label = परोसें
store-label = रखें
tip-label = सुझाव
caution-label = सावधान
note-label = ध्यान दें

## Steps

set-aside = अब बच्चे का हिस्सा अलग रखें।
set-aside-why = इसके बाद जो डालेंगे वह बाकी परिवार के लिए है।
unattended = पास खड़े रहने की ज़रूरत नहीं।
everything = सब कुछ
the-rest = बाकी
child-portion = बच्चे का हिस्सा
the-pot = खाना
the-batter = घोल
the-dough = गुँथा आटा
the-porridge = दलिया
sentence-order = verb-last
ingredient-order = amount-first
water = पानी
piece-with = { $what } के साथ
piece-with-fill = { $what } से
piece-in = { $what } में
piece-heat-low = धीमी आँच पर
piece-heat-medium = मध्यम आँच पर
piece-heat-high = तेज़ आँच पर
piece-celsius = { $n } °C पर
until = { $cue } तक
sentence-join = { $first } { $rest }

do-wash = { $what } धोएँ
do-rinse = { $what } खंगालें
do-clean = { $what } साफ़ करें
do-sort = { $what } बीनें
do-peel = { $what } छीलें
do-trim = { $what } किनारे काटकर साफ़ करें
do-shell = { $what } छिलके से निकालें
do-stone = { $what } गुठली निकालकर रखें
do-bone = { $what } सारी हड्डियाँ और काँटे निकालकर रखें
do-crumble = { $what } चूरा करें
do-flake = { $what } रेशे करके तोड़ें
do-scoop = { $what } चम्मच से निकालें
do-halve = { $what } आधा काटें
do-quarter = { $what } चार टुकड़ों में काटें
do-cut = { $what } काटें
do-slice = { $what } फाँकों में काटें
do-dice = { $what } छोटे चौकोर टुकड़ों में काटें
do-chop = { $what } बारीक काटें
do-shred = { $what } लच्छों में काटें
do-mince = { $what } कीमा करें
do-grate = { $what } कद्दूकस करें
do-mash = { $what } मसलें
do-crush = { $what } कुचलें
do-pound = { $what } कूटें
do-press = { $what } दबाएँ
do-squeeze = { $what } निचोड़ें
do-puree = { $what } मसलकर एकदम मुलायम करें
do-blend = { $what } मिक्सी में पीसें
do-grind = { $what } पीसें
do-mill = { $what } चक्की में पीसें
do-sieve = { $what } छानें
do-strain = { $what } छानें
do-beat = { $what } फेंटें
do-whisk = { $what } फेंटें
do-knead = { $what } गूँधें
do-roll = { $what } बेलें
do-shape = { $what } आकार दें
do-dry = { $what } सुखाएँ
do-soak = { $what } भिगोएँ
do-drain = { $what } पानी निकालकर रखें
do-sprout = { $what } अंकुरित करें
do-ferment = { $what } खट्टा होने रखें
do-rest = { $what } थोड़ी देर रखें
do-stand = { $what } थोड़ी देर रखें
do-leave = { $what } छोड़ दें
do-boil = { $what } उबालें
do-cook = { $what } पकाएँ
do-blanch = { $what } उबलते पानी में डुबोएँ
do-simmer = { $what } धीरे-धीरे पकाएँ
do-stew = { $what } शोरबे में पकाएँ
do-braise = { $what } ढककर थोड़े पानी में पकाएँ
do-poach = { $what } हल्के गरम पानी में पकाएँ
do-thicken = { $what } गाढ़ा होने तक पकाएँ
do-steam = { $what } भाप में पकाएँ
do-pressure-cook = { $what } प्रेशर कुकर में पकाएँ
do-fry = { $what } तलें
do-deep-fry = { $what } भरपूर तेल में तलें
do-brown = { $what } भूरा होने तक भूनें
do-scramble = { $what } चलाते हुए भुर्जी जैसा पकाएँ
do-stir-fry = { $what } चलाते हुए भूनें
do-saute = { $what } हल्का भूनें
do-soften = { $what } कड़ाही में नरम करें
do-roast = { $what } भूनें
do-grill = { $what } सेंकें
do-bake = { $what } तंदूर या ओवन में पकाएँ
do-toast = { $what } सेंकें
do-dry-roast = { $what } बिना तेल के भूनें
do-warm = { $what } गुनगुना करें
do-reheat = { $what } फिर से गरम करें
do-heat = { $what } गरम करें
do-melt = { $what } पिघलाएँ
do-add = { $what } डालें
do-pour = { $what } उँडेलें
do-put = { $what } डालें
do-place = { $what } रखें
do-sprinkle = { $what } ऊपर छिड़कें
do-top = { $what } ऊपर रखें
do-season = { $what } स्वाद के लिए डालें
do-mix = { $what } मिलाएँ
do-stir = { $what } चलाएँ
do-combine = { $what } एक साथ करें
do-fold = { $what } हल्के हाथ से मिलाएँ
do-dissolve = { $what } घोलें
do-fill = { $what } भरें
do-spread = { $what } फैलाएँ
do-wrap = { $what } लपेटें
do-coat = { $what } लपेटें
do-divide = { $what } बाँटें
do-cover = { $what } ढकें
do-cool = { $what } ठंडा होने दें
do-set-aside = { $what } अलग रखें
do-serve = { $what } परोसें
do-feed = { $what } खिलाएँ

cue-soft = नरम होने
cue-very-soft = बहुत नरम होने
cue-tender = गलने
cue-thick = गाढ़ा होने
cue-smooth = मुलायम होने
cue-done = तैयार होने
cue-cooked = पक जाने
cue-firm = जम जाने
cue-golden = सुनहरा होने
cue-hot = गरम होने
cue-warm = गुनगुना होने
cue-cool = ठंडा होने
cue-dry = सूखने
cue-wilted = मुरझाने
cue-it-thickens = गाढ़ा होने
cue-it-boils = उबाल आने

## States of food

state-dry = सूखा
state-dried = सुखाया हुआ
state-raw = कच्चा
state-cooked = पकाया हुआ
state-boiled = उबाला हुआ
state-roasted = भुना हुआ
state-toasted = सेंका हुआ
state-fried = तला हुआ
state-steamed = भाप में पकाया हुआ
state-baked = ओवन में पकाया हुआ
state-smoked = धुएँ में पकाया हुआ
state-tinned = डिब्बाबंद
state-canned = डिब्बाबंद
state-sprouted = अंकुरित
state-fermented = खमीर उठा
state-peeled = छिला हुआ
state-unpeeled = छिलके के साथ
state-cubed = चौकोर टुकड़ों में कटा
state-diced = छोटे चौकोर टुकड़ों में कटा
state-chopped = कटा हुआ
state-finely-chopped = बारीक कटा
state-sliced = फाँकों में कटा
state-grated = कद्दूकस किया हुआ
state-mashed = मसला हुआ
state-ground = पिसा हुआ
state-minced = कीमा किया हुआ
state-whole = साबुत
state-halved = आधा कटा
state-quartered = चार टुकड़ों में कटा
state-boned = बिना हड्डी और काँटे का
state-shelled = बिना छिलके का
state-pitted = बिना गुठली का
state-washed = धुला हुआ
state-smooth = मुलायम
state-ripe = पका
state-fresh = ताज़ा
state-young = कोमल
state-flaked = रेशे किया हुआ
state-pounded = कूटा हुआ
state-shredded = लच्छों में कटा
state-iodised = आयोडीन वाला
state-pasteurised = पाश्चुरीकृत
state-soft = नरम
state-split = दला हुआ
state-plain = सादा
state-powdered = चूर्ण

## Cautions that rules put beside a step

caution-raw-kidney-bean = ये फलियाँ कभी अधपकी न खाएँ। भिगोएँ, वह पानी फेंक दें, और कम से कम { $minutes } मिनट तेज़ उबाल पर रखें।
caution-raw-meat = तब तक पकाएँ जब तक कहीं गुलाबी न रहे और रस साफ़ निकले।
caution-raw-fish = तब तक पकाएँ जब तक मछली कड़ी होकर अलग न होने लगे।
caution-raw-fish-dried = सूखी मछली कच्ची होती है: उसे कुरकुरी होने तक सेंकें या नरम होने तक उबालें।
caution-raw-egg = अंडा पूरा जमने तक पकाएँ। कुछ भी बहता न रहे।
caution-raw-milk = बच्चे को देने से पहले दूध उबालें।
caution-choke-bones = साफ़ उँगलियों से काँटे और हड्डियाँ टटोलें। एक-एक निकाल दें।
caution-nut-paste = पेस्ट को अच्छी तरह मिला दें। चम्मच पर अकेला पेस्ट कभी न दें।
caution-raw-cassava = कसावा छीलकर पूरा पकाएँ। कच्चा कभी न दें। कड़वा कसावा कभी न लें।
caution-mould-prone = { $what } लेने से पहले फफूँद लगे, सिकुड़े या कड़वे दाने फेंक दें।
caution-liver = ज़्यादा कलेजी बच्चे को नुकसान कर सकती है: बताई मात्रा ही दें, हफ़्ते में एक बार से ज़्यादा नहीं।
caution-nitrate-leaf = पत्तों वाला खाना बनते ही खाएँ। उसे गरम रखकर न छोड़ें।
caution-first-time = पहली बार { $what } वाला खाना थोड़ा-सा ही दें। चकत्ते या सूजन पर ध्यान रखें।

## The back

back-title = एक हिस्सा क्या देता है
back-explain = हर पट्टी दिखाती है कि एक हिस्सा दिन की ज़रूरत का कितना भाग पूरा करता है।
energy-label = ऊर्जा
energy-explain = ऊर्जा की ज़रूरत वह है जो माँ के दूध के अलावा खाने से दिन में मिलनी चाहिए।
energy-density = { $n } kcal/g
kcal = { $n } kcal
kJ = { $n } kJ
percent = { $n }%
at-least = कम से कम
unknown = पता नहीं
no-need-set = ज़रूरत तय नहीं है
limit-most = दिन में ज़्यादा से ज़्यादा { $amount }

group-energy-growth = ऊर्जा और बढ़त
group-blood = ख़ून
group-eyes-defence = आँखें और बचाव
group-bones = हड्डियाँ
group-nerves = नसें
group-salt = नमक
group-other = अन्य

nutrient-PROCNT = प्रोटीन
nutrient-FAT = वसा
nutrient-FIBTG = रेशा
nutrient-ZN = ज़िंक
nutrient-FE = लोहा
nutrient-FOLDFE = फ़ोलेट
nutrient-FOL = फ़ोलेट
nutrient-VITB12 = विटामिन B12
nutrient-VITC = विटामिन C
nutrient-CU = ताँबा
nutrient-VITA_RAE = विटामिन A
nutrient-CA = कैल्शियम
nutrient-P = फ़ॉस्फ़ोरस
nutrient-MG = मैग्नीशियम
nutrient-VITD = विटामिन D
nutrient-THIA = थायमिन
nutrient-RIBF = राइबोफ़्लेविन
nutrient-NIA = नायसिन
nutrient-VITB6A = विटामिन B6
nutrient-CHOLN = कोलीन
nutrient-NA = सोडियम
nutrient-K = पोटैशियम
nutrient-SE = सेलेनियम
nutrient-ID = आयोडीन
nutrient-TOCPHA = विटामिन E
nutrient-VITK1 = विटामिन K
nutrient-MN = मैंगनीज़
nutrient-PANTAC = पैंटोथेनिक अम्ल
nutrient-SUGAR = शर्करा
nutrient-F18D3CN3 = ओमेगा-3
nutrient-F18D2 = ओमेगा-6

food-groups-title = इस खाने में खाद्य समूह
food-group-breast-milk = माँ का दूध
food-group-grains = अनाज, जड़ें, कंद
food-group-pulses = दालें, मेवे, बीज
food-group-dairy = दूध से बने खाने
food-group-flesh = मांस, मछली, कलेजी
food-group-eggs = अंडे
food-group-vitamin-a = विटामिन A वाले फल और सब्ज़ियाँ
food-group-other-plants = दूसरे फल और सब्ज़ियाँ

allergens-title = इसमें है
allergens-none = सूची का कोई एलर्जन इसमें नहीं है
allergens-family = सिर्फ़ परिवार के हिस्से में
allergen-gluten = ग्लूटेन
allergen-crustacea = झींगा-केकड़ा
allergen-eggs = अंडा
allergen-fish = मछली
allergen-peanuts = मूँगफली
allergen-milk = दूध
allergen-sesame = तिल
allergen-tree-nuts = मेवे
allergen-soya = सोया
allergen-oats = जई
allergen-buckwheat = कुट्टू
allergen-celery = सेलरी
allergen-lupin = ल्यूपिन
allergen-mustard = सरसों
allergen-molluscs = सीपी-घोंघा
allergen-sulphite = सल्फ़ाइट

claims-title = दावे और उनका आधार
claim-source-of = { $what } का स्रोत
claim-rich-in = { $what } से भरपूर
claim-low-in = { $what } कम
claim-free-of = { $what } नहीं
claim-basis = { $ages }: हर हिस्से में { $value }, ज़रूरी { $threshold }
claim-basis-bound = { $ages }: हर हिस्से में कम से कम { $value }, ज़रूरी { $threshold }
claim-basis-100g = 100 ग्राम में { $value }, ज़्यादा से ज़्यादा { $threshold } चलेगा
claims-note = घर के खाने के लिए। छोटे बच्चों के डिब्बाबंद खाने पर यह तभी लिख सकते हैं जब देश का क़ानून माने (Codex CXG 23-1997, 1.4)।

texture-title = कितना नरम
texture-thick-mashed = गाढ़ा और अच्छी तरह मसला हुआ; चम्मच पर टिके।
texture-minced-finger = बारीक कटा या मसला हुआ, हाथ से उठाने लायक नरम टुकड़ों के साथ।
texture-family-chopped = घर का खाना, ज़रूरत हो तो कटा या मसला हुआ।

figures-title = आँकड़े कहाँ से हैं
figures-usda = पोषक मान: USDA SR28 (सार्वजनिक)।
figures-table = पोषक मान: तालिका { $table }।
figures-dish = एक भाग दूसरा खाना है: { $dish }।
figures-borrowed = इनके लिए मिलते-जुलते खाने के मान हैं: { $foods }।
figures-retention = पकाने में कमी: USDA के गुणक, छठा संस्करण।
figures-measures = 1 कप = { $cup } मिली, 1 बड़ा चम्मच = { $tbsp } मिली, 1 छोटा चम्मच = { $tsp } मिली।
figures-profile = ज़रूरतें: { $title }, संस्करण { $edition }।
figures-profile-amended = ज़रूरतें: { $title }, संस्करण { $edition }, आधार { $base }, संस्करण { $base_edition }।
profile-cautious-international = अंतरराष्ट्रीय मार्गदर्शन, ज़्यादा सावधानी वाले आँकड़े
figures-switched-off = यहाँ बंद: { $rule } ({ $reason })।
figures-lowered = यहाँ कम सख़्त: { $rule } ({ $reason })।
figures-cooked-weighed = पके खाने का वज़न नापा गया।
figures-cooked-estimated = पके खाने का वज़न, { $grams }, अनुमान है।
figures-estimated = ≈ का मतलब: वज़न अनुमान है।
figures-at-least = “कम से कम”: किसी खाने का मान पता नहीं है।
figures-volume-assumed = हिस्से का वज़न अनुमान है।
figures-reviewed = { $date } को { $by } ने जाँचा।
figures-reviewed-date = { $date } को जाँचा गया।
figures-source = खाना कहाँ से: { $source }।
figures-program = Porringer { $version } से बना।

standing-guidance = अपने देश के निर्देश और स्वास्थ्य कार्यकर्ता की सलाह मानें। स्तनपान जारी रखें।
standing-help = बच्चा खाए तब उसके पास रहें। गला रुँधे, चकत्ते या सूजन हो, या बच्चा बीमार हो, तो तुरंत मदद लें।
absorption-helps-flesh = इस खाने का मांस या मछली लोहा और ज़िंक सोखने में मदद कर सकता है।
absorption-helps-vitamin-c = इस खाने का विटामिन C लोहा सोखने में मदद कर सकता है।
absorption-hinders-phytate = इस खाने का फ़ाइटेट ज़िंक, लोहा या कैल्शियम के सोखने में रुकावट डाल सकता है।
absorption-hinders-tea = इस खाने की चाय या कॉफ़ी लोहे के सोखने में रुकावट डाल सकती है।
standing-figures = आँकड़े नापे नहीं, गिने गए हैं। ये किसी एक बच्चे के लिए सलाह की जगह नहीं लेते।

## A day's menu

menu-ages-alt = उम्र महीनों में। यह दिन { $text } के बच्चों के लिए है।
menu-breastfed = स्तनपान करने वाला
menu-not-breastfed = स्तनपान न करने वाला
menu-strip-alt = दिन एक रेखा के रूप में, जहाँ बच्चा खाता है वहाँ निशान: { $times }।
menu-eat-label = बच्चा क्या खाता है
menu-breast-milk = माँ का दूध दिन-रात, जितनी बार बच्चा चाहे।
menu-work-label = पकाने वाले का दिन
menu-day-before = एक दिन पहले, { $time }
menu-days-before = { $n } दिन पहले, { $time }
menu-work-wait = { $what }: { $time }। इनके लिए: { $meals }।
menu-work-pot = { $meals } के लिए एक ही बर्तन। { $what }: { $time }।
menu-work-cook = “{ $dish }” शुरू करें: { $time }। इनके लिए: { $meals }।
menu-work-cook-hands = “{ $dish }” शुरू करें: { $time }, जिसमें { $work } काम। इनके लिए: { $meals }।
clock = { $hour }:{ $minute }
clock-hour = { $hour }
clock-morning = सुबह
clock-noon = दोपहर
clock-evening = शाम
clock-night = रात
meal-meal = भोजन
meal-snack = नाश्ता
meal-breakfast = सुबह का खाना
meal-lunch = दोपहर का खाना
meal-supper = शाम का खाना
meal-dinner = रात का खाना
meal-morning = सुबह
meal-mid-morning = दोपहर से पहले
meal-midday = दोपहर
meal-afternoon = दोपहर बाद
meal-evening = शाम
meal-bedtime = सोने से पहले
menu-back-title = दिन भर में क्या मिलता है
menu-back-explain = हर पट्टी दिखाती है कि खाना और माँ का दूध मिलकर दिन की ज़रूरत का कितना भाग पूरा करते हैं।
menu-back-explain-not-breastfed = हर पट्टी दिखाती है कि खाना दिन की ज़रूरत का कितना भाग पूरा करता है।
menu-energy-food = खाने से ऊर्जा
menu-energy-all = कुल ऊर्जा
menu-groups-title = खाद्य समूह: { $all } में से { $n }; कम से कम { $needed } चाहिए
menu-times = भोजन: { $meals }। नाश्ते: { $snacks }। बच्चे को दिन में कम से कम { $needed } बार खाना चाहिए।
menu-short-title = क्या कम है, और किससे पूरा होगा
menu-short-line = { $what } { $share }: { $foods } से पूरा होगा।
menu-short-line-none = { $what } { $share }: कोई एक खाना इसे पूरा नहीं करता; पूरक के बारे में पूछें।
menu-short-none = यहाँ दिखाई कोई चीज़ कम नहीं है।
figures-menu-dishes = खानों के आँकड़े उनके अपने कार्ड पर हैं।
figures-milk = माँ का दूध, { $ages }: औसतन दिन में { $ml } और { $kcal } ({ $source }, { $year }; मात्रा { $status }); उसमें क्या है: USDA SR28 पंक्ति 1107।
figures-breastfed-assumed = स्तनपान करने वाले बच्चे के लिए गिना गया; सूची में नहीं लिखा है।
figures-menu-source = सूची कहाँ से: { $source }।
status-checked = जाँची हुई
status-computed = गिनी हुई
status-memory = अभी जाँची नहीं
standing-guidance-not-breastfed = अपने देश के निर्देश और स्वास्थ्य कार्यकर्ता की सलाह मानें।

## The sheet for a cooking demonstration

demo-heading = पकाकर दिखाना
demo-for-label = किनके लिए
demo-for = { $n ->
    [one] { $ages } के { $count } बच्चे के लिए
   *[other] { $ages } के { $count } बच्चों के लिए
}
demo-each = हर बच्चा
demo-factor-label = नुस्ख़ा
demo-factor = × { $n }
demo-weight = वज़न
demo-bought = ख़रीदें
demo-plus = { $first } + { $second }
demo-kilograms = { $n } किलो
demo-litres = { $n } लीटर
demo-more = नुस्ख़े से { $n } ज़्यादा
demo-less = नुस्ख़े से { $n } कम
demo-before = शुरू करने से पहले
demo-pot = बर्तन में { $litres } या ज़्यादा आना चाहिए, ताकि खाना दो-तिहाई से ऊपर न भरे।
demo-times = पकाने का समय वही रहता है। उबाल आने या कड़ाही गरम होने से गिनें; बड़े बर्तन को ज़्यादा देर लगती है।
demo-batches = तलने, भूनने या सेंकने की चीज़ें थोड़ी-थोड़ी करके डालें। समय हर बार का है।
demo-dish = पहले यह बनाएँ: { $dish }।
demo-practice = बर्तन का आकार और समय: आम चलन, कोई स्रोत नहीं।
demo-rounded = मात्राएँ नापने लायक गोल की गई हैं: कोई पंक्ति { $n } से ज़्यादा नहीं हटती।
demo-refuse = ≥ इसके छिलके और हड्डियाँ गिनी नहीं गईं: ज़्यादा ख़रीदें।
demo-texts = चरणों और सुझावों में लिखी संख्याएँ मूल नुस्ख़े की हैं।

## Pages for a browser

language-name = हिन्दी
web-contents = सूची
web-around = अगले पन्ने
web-languages = दूसरी भाषाओं में
web-dishes = खाने
web-days = पूरे दिन
web-by-age = उम्र के अनुसार
web-by-food = खाद्य के अनुसार

## A booklet

booklet-page = पन्ना { $n }
booklet-contents = सूची
booklet-notes = टिप्पणियाँ
booklet-dishes = { $n ->
    [one] 1 खाना
   *[other] { $count } खाने
}
booklet-days = { $n ->
    [one] 1 पूरा दिन
   *[other] { $count } पूरे दिन
}
booklet-ages-alt = उम्र महीनों में। यह पुस्तिका { $text } के बच्चों के लिए है।
booklet-measures = कैसे नापें
booklet-level = चम्मच या कप को इतना भरें कि गिरने लगे, फिर चाकू की पीठ किनारे पर फेर दें। यह समतल नाप है। कार्ड पर सारे नाप समतल हैं, जब तक “ऊपर तक भरकर” न लिखा हो।
booklet-true-size = नीचे के चम्मच और कप असली आकार में बने हैं। अपने वाले इन पर रखकर देखें।
booklet-check = { $cm } सेमी। अगर आपका पैमाना मेल न खाए, तो पन्ना 100 % पर नहीं छपा।
booklet-check-alt = { $cm } सेमी की रेखा, हर सेंटीमीटर पर निशान
booklet-spoon = गोल चम्मच, अंदर से { $width } मिमी चौड़ा और उसका आधा गहरा। उसी चौड़ाई के लंबे या चपटे चम्मच में कम आता है।
booklet-spoon-alt = { $label }, ऊपर और बगल से, असली आकार में: { $width } मिमी चौड़ा, { $depth } मिमी गहरा
booklet-cup = सीधी दीवार वाला कप, अंदर से { $width } मिमी चौड़ा, { $height } मिमी तक भरा।
booklet-cup-alt = { $label }, बगल से, असली आकार में: { $width } मिमी चौड़ा, { $height } मिमी ऊँचा, हिस्सों के निशानों के साथ
booklet-cup-mark = { $part } कप = { $ml }
booklet-own-cup = आपके कप का आकार अलग है? { $ml } पानी का वज़न { $grams } है। उसे डालें और दीवार पर ऊँचाई का निशान लगाएँ।
booklet-spoons-in-spoon = एक बड़े चम्मच में { $n } छोटे चम्मच आते हैं।
booklet-heaped = ऊपर तक भरा चम्मच या कप { $n } समतल के बराबर गिना जाता है। ढेर में कितना आता है यह खाने और हाथ पर निर्भर है (आम चलन, कोई स्रोत नहीं)।
booklet-pinch = चुटकी वह है जो अँगूठे और उँगली में आए: { $n } चुटकी से एक छोटा चम्मच भरता है।
booklet-nutrients = हर खाने का एक हिस्सा क्या देता है
booklet-nutrients-explain = ऊपर का अंक एक हिस्से की मात्रा है, नीचे का दिन की ज़रूरत का भाग। पूरे दिन में खाना और माँ का दूध साथ गिने गए हैं।
booklet-dish = खाना
booklet-index = अनुक्रमणिका
booklet-index-food = खाद्य के अनुसार
booklet-index-age = उम्र के अनुसार
booklet-sources = स्रोत
booklet-guidance = ज़रूरतों, सीमाओं और नियमों के दस्तावेज़
booklet-source = { $n ->
    [one] { $source }: 1 आँकड़ा
   *[other] { $source }: { $count } आँकड़े
}
booklet-source-open = { $n ->
    [one] { $source }: 1 आँकड़ा, इनमें { $open } अभी जाँचे नहीं गए
   *[other] { $source }: { $count } आँकड़े, इनमें { $open } अभी जाँचे नहीं गए
}
booklet-source-all-open = { $n ->
    [one] { $source }: 1 आँकड़ा, अभी जाँचा नहीं गया
   *[other] { $source }: { $count } आँकड़े, अभी जाँचे नहीं गए
}
booklet-dish-sources = खाने कहाँ से हैं
booklet-colophon = इस पुस्तिका के बारे में
booklet-programme = बनाने वाले
booklet-source-label = स्रोत
booklet-reviewed = जाँचा गया
booklet-profile = निर्देश
booklet-edition = { $title }, संस्करण { $edition } ({ $id })
booklet-amends = { $profile }, आधार { $base }
booklet-tables = तालिकाएँ
booklet-usda = USDA National Nutrient Database for Standard Reference, release 28: { $n } खाद्य, सार्वजनिक।
booklet-retention = USDA Table of Nutrient Retention Factors, release 6, सार्वजनिक।
booklet-table = तालिका { $table }: { $n } खाद्य।
booklet-measures-label = नाप
booklet-type = अक्षर
booklet-type-text = Andika, SIL International, SIL Open Font License 1.1.
booklet-made = जिससे बना
booklet-print = 100 % पर छापें, पन्ने के अनुसार छोटा-बड़ा न करें: चम्मच और कप असली आकार में बने हैं।
