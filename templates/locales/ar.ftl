# Words of the card in Arabic. A translator edits this file.
# DRAFT: written without a mother-tongue reader. Have one read every line, on a
# printed card, before anything in Arabic goes to families.
# Numbers arrive as text that is already written for the language; where the
# plural matters a number comes with them as $n. The six forms are those of
# CLDR: zero, one, two, few (3 to 10), many (11 to 99), other. Steps speak to
# several readers, so that no verb has to say whether a man or a woman cooks.

## Ages and times

ages-label = للأطفال في عمر
ages-range = { $from } إلى { $to } شهرًا
ages-one = { $from } شهرًا
ages-from = { $from } شهرًا فأكثر
ages-alt = العمر بالأشهر. هذا الطبق للأطفال في عمر { $text }.
band = { $from } إلى { $to } شهرًا

time-hands-on = العمل
time-total = الوقت كله
time-minutes = { $n } دقيقة
time-hours = { $n } ساعة
time-hour = { $n } ساعة
time-both = { $hours } و{ $minutes }
time-days = { $n ->
    [zero] { $text } يوم
    [one] { $text } يوم
    [two] { $text } يومان
    [few] { $text } أيام
    [many] { $text } يومًا
   *[other] { $text } يوم
}
time-seconds = { $text } ثانية
time-overnight = طوال الليل
time-whistles = { $n ->
    [zero] { $text } صفرة
    [one] { $text } صفرة
    [two] { $text } صفرتان
    [few] { $text } صفرات
    [many] { $text } صفرة
   *[other] { $text } صفرة
}
time-range = { $low } إلى { $high }
time-open = أطول من ذلك: بعض الخطوات بلا وقت محدد
start-evening = ابدأوا مساء اليوم السابق
start-days = { $n ->
    [zero] ابدأوا قبل ذلك بمدة { $count } يومًا
    [one] ابدأوا قبل ذلك بيوم
    [two] ابدأوا قبل ذلك بيومين
    [few] ابدأوا قبل ذلك بمدة { $count } أيام
    [many] ابدأوا قبل ذلك بمدة { $count } يومًا
   *[other] ابدأوا قبل ذلك بمدة { $count } يومًا
}
start-early = ابدأوا قبل الوجبة بمدة { $hours } ساعات

makes-label = الناتج
portion-label = وجبة واحدة للطفل
usual-amount = نحو { $amount }

## Numbers, lists, amounts

range = { $low } إلى { $high }
amount = { $number } { $unit }
amount-heaped = { $number } { $unit } ممتلئة فوق الحافة
amount-level = { $number } { $unit } بمستوى الحافة
amount-sized = { $number } { $unit }، الحجم { $size }
amount-size-only = { $number }، الحجم { $size }
amount-of-food = { $food }: { $amount }
title-in-line = kept
portions-of = { $n ->
    [zero] { $number } حصة من { $amount }
    [one] { $number } حصة من { $amount }
    [two] { $number } حصتان من { $amount }
    [few] { $number } حصص من { $amount }
    [many] { $number } حصة من { $amount }
   *[other] { $number } حصة من { $amount }
}
portions = { $n ->
    [zero] { $number } حصة
    [one] { $number } حصة
    [two] { $number } حصتان
    [few] { $number } حصص
    [many] { $number } حصة
   *[other] { $number } حصة
}
portion-share = { $n ->
    [zero] حصة واحدة من { $count } حصة
    [one] الطبق كله
    [two] نصف الطبق
    [few] حصة واحدة من { $count } حصص
    [many] حصة واحدة من { $count } حصة
   *[other] حصة واحدة من { $count } حصة
}
to-taste = حسب الذوق
or = أو { $what }
comma = ،
stop = .
colon = :
grams = { $n } غ
millilitres = { $n } مل

unit-cup = { $n ->
    [zero] كوب
    [one] كوب
    [two] كوبان
    [few] أكواب
    [many] كوبًا
   *[other] كوب
}
unit-tbsp = { $n ->
    [zero] ملعقة كبيرة
    [one] ملعقة كبيرة
    [two] ملعقتان كبيرتان
    [few] ملاعق كبيرة
    [many] ملعقة كبيرة
   *[other] ملعقة كبيرة
}
unit-tsp = { $n ->
    [zero] ملعقة صغيرة
    [one] ملعقة صغيرة
    [two] ملعقتان صغيرتان
    [few] ملاعق صغيرة
    [many] ملعقة صغيرة
   *[other] ملعقة صغيرة
}
unit-mL = مل
unit-L = { $n ->
    [zero] لتر
    [one] لتر
    [two] لتران
    [few] لترات
    [many] لترًا
   *[other] لتر
}
unit-g = غ
unit-kg = كغ
unit-mg = مغ
unit-cm = سم
unit-pinch = { $n ->
    [zero] رشة
    [one] رشة
    [two] رشتان
    [few] رشات
    [many] رشة
   *[other] رشة
}
unit-dash = { $n ->
    [zero] لمسة
    [one] لمسة
    [two] لمستان
    [few] لمسات
    [many] لمسة
   *[other] لمسة
}
unit-handful = { $n ->
    [zero] حفنة
    [one] حفنة
    [two] حفنتان
    [few] حفنات
    [many] حفنة
   *[other] حفنة
}
unit-piece = { $n ->
    [zero] قطعة
    [one] قطعة
    [two] قطعتان
    [few] قطع
    [many] قطعة
   *[other] قطعة
}
unit-clove = { $n ->
    [zero] فص
    [one] فص
    [two] فصان
    [few] فصوص
    [many] فصًا
   *[other] فص
}
unit-leaf = { $n ->
    [zero] ورقة
    [one] ورقة
    [two] ورقتان
    [few] أوراق
    [many] ورقة
   *[other] ورقة
}
unit-slice = { $n ->
    [zero] شريحة
    [one] شريحة
    [two] شريحتان
    [few] شرائح
    [many] شريحة
   *[other] شريحة
}
unit-bunch = { $n ->
    [zero] حزمة
    [one] حزمة
    [two] حزمتان
    [few] حزم
    [many] حزمة
   *[other] حزمة
}
unit-stalk = { $n ->
    [zero] ساق
    [one] ساق
    [two] ساقان
    [few] سيقان
    [many] ساقًا
   *[other] ساق
}
unit-sprig = { $n ->
    [zero] غصن
    [one] غصن
    [two] غصنان
    [few] أغصان
    [many] غصنًا
   *[other] غصن
}
unit-segment = { $n ->
    [zero] فلقة
    [one] فلقة
    [two] فلقتان
    [few] فلقات
    [many] فلقة
   *[other] فلقة
}
unit-wedge = { $n ->
    [zero] قطعة هلالية
    [one] قطعة هلالية
    [two] قطعتان هلاليتان
    [few] قطع هلالية
    [many] قطعة هلالية
   *[other] قطعة هلالية
}
unit-head = { $n ->
    [zero] رأس
    [one] رأس
    [two] رأسان
    [few] رؤوس
    [many] رأسًا
   *[other] رأس
}
unit-pod = { $n ->
    [zero] قرن
    [one] قرن
    [two] قرنان
    [few] قرون
    [many] قرنًا
   *[other] قرن
}
unit-cob = { $n ->
    [zero] كوز
    [one] كوز
    [two] كوزان
    [few] أكواز
    [many] كوزًا
   *[other] كوز
}
unit-fillet = { $n ->
    [zero] قطعة فيليه
    [one] قطعة فيليه
    [two] قطعتا فيليه
    [few] قطع فيليه
    [many] قطعة فيليه
   *[other] قطعة فيليه
}
unit-stick = { $n ->
    [zero] عود
    [one] عود
    [two] عودان
    [few] أعواد
    [many] عودًا
   *[other] عود
}
unit-cube = { $n ->
    [zero] مكعب
    [one] مكعب
    [two] مكعبان
    [few] مكعبات
    [many] مكعبًا
   *[other] مكعب
}
unit-drop = { $n ->
    [zero] قطرة
    [one] قطرة
    [two] قطرتان
    [few] قطرات
    [many] قطرة
   *[other] قطرة
}
size-small = صغير
size-medium = متوسط
size-large = كبير

measure-alt = { $amount }، رسم مملوء بقدره

## Sections

ingredients-label = ما تحتاجون إليه
family-title = للعائلة فقط، بعد وضع طعام الطفل جانبًا
method-label = طريقة التحضير
serve-label = التقديم
store-label = الحفظ
tip-label = نصيحة
caution-label = انتبهوا
note-label = ملاحظة

## Steps

set-aside = ضعوا الآن حصة الطفل جانبًا.
set-aside-why = ما يأتي بعد ذلك لبقية العائلة.
unattended = لا حاجة إلى البقاء بجانبه.
everything = الكل
the-rest = الباقي
child-portion = حصة الطفل
the-pot = الطعام
the-batter = العجينة السائلة
the-dough = العجين
the-porridge = العصيدة
sentence-order = verb-first
ingredient-order = food-first
water = الماء
piece-with = مع { $what }
piece-with-fill = بحشوة: { $what }
piece-in = في { $what }
piece-heat-low = على نار هادئة
piece-heat-medium = على نار متوسطة
piece-heat-high = على نار قوية
piece-celsius = عند { $n } °C
until = حتى { $cue }
sentence-join = { $first } { $rest }

do-wash = اغسلوا { $what }
do-rinse = اشطفوا { $what }
do-clean = نظّفوا { $what }
do-sort = نقّوا { $what }
do-peel = قشّروا { $what }
do-trim = شذّبوا { $what }
do-shell = أزيلوا القشر عن { $what }
do-stone = أخرجوا النواة من { $what }
do-bone = أخرجوا كل العظم من { $what }
do-crumble = فتّتوا { $what } ناعمًا
do-flake = فتّتوا { $what }
do-scoop = اغرفوا { $what }
do-halve = اقطعوا { $what } نصفين
do-quarter = اقطعوا { $what } أربعة أرباع
do-cut = اقطعوا { $what }
do-slice = اقطعوا { $what } شرائح
do-dice = اقطعوا { $what } مكعبات صغيرة
do-chop = افرموا { $what } قطعًا صغيرة
do-shred = اقطعوا { $what } شرائط رفيعة
do-mince = افرموا { $what } ناعمًا
do-grate = ابشروا { $what }
do-mash = اهرسوا { $what }
do-crush = اسحقوا { $what }
do-pound = دقّوا { $what }
do-press = اضغطوا { $what }
do-squeeze = اعصروا { $what }
do-puree = اهرسوا { $what } حتى النعومة
do-blend = اخلطوا { $what } في الخلاط
do-grind = اطحنوا { $what }
do-mill = اطحنوا { $what } في المطحنة
do-sieve = انخلوا { $what }
do-strain = صفّوا { $what }
do-beat = اخفقوا { $what }
do-whisk = اخفقوا { $what } بالمضرب
do-knead = اعجنوا { $what }
do-roll = افردوا { $what }
do-shape = شكّلوا { $what }
do-dry = جفّفوا { $what }
do-soak = انقعوا { $what }
do-drain = صفّوا { $what } من الماء
do-sprout = أنبتوا { $what }
do-ferment = اتركوا { $what } للتخمر
do-rest = اتركوا { $what } بعض الوقت
do-stand = اتركوا { $what } بعض الوقت
do-leave = اتركوا { $what }
do-boil = اسلقوا { $what }
do-cook = اطبخوا { $what }
do-blanch = اغمسوا { $what } في ماء يغلي
do-simmer = اطبخوا { $what } على غليان خفيف
do-stew = اطبخوا { $what } في المرق
do-braise = اطبخوا { $what } مع قليل من الماء والغطاء مغلق
do-poach = اطبخوا { $what } في ماء ساخن لا يغلي
do-thicken = اطبخوا { $what } حتى التماسك
do-steam = اطبخوا { $what } على البخار
do-pressure-cook = اطبخوا { $what } في قدر الضغط
do-fry = اقلوا { $what }
do-deep-fry = اقلوا { $what } في زيت كثير
do-brown = حمّروا { $what }
do-scramble = اقلوا { $what } مع التحريك
do-stir-fry = اقلوا { $what } مع التحريك المستمر
do-saute = اقلوا { $what } قليلًا
do-soften = ليّنوا { $what } في المقلاة
do-roast = اشووا { $what }
do-grill = اشووا { $what } على الشواية
do-bake = اخبزوا { $what } في الفرن
do-toast = حمّصوا { $what }
do-dry-roast = حمّصوا { $what } في مقلاة جافة
do-warm = دفّئوا { $what }
do-reheat = أعيدوا تسخين { $what }
do-heat = سخّنوا { $what }
do-melt = ذوّبوا { $what }
do-add = أضيفوا { $what }
do-pour = اسكبوا { $what }
do-put = ضعوا { $what }
do-place = ضعوا { $what }
do-sprinkle = رشّوا { $what } فوقه
do-top = ضعوا { $what } فوقه
do-season = تبّلوا بإضافة { $what }
do-mix = اخلطوا { $what }
do-stir = حرّكوا { $what }
do-combine = اجمعوا { $what } معًا
do-fold = امزجوا { $what } برفق
do-dissolve = أذيبوا { $what }
do-fill = املأوا { $what }
do-spread = ابسطوا { $what }
do-wrap = لفّوا { $what }
do-coat = غلّفوا { $what }
do-divide = قسّموا { $what }
do-cover = غطّوا { $what }
do-cool = اتركوا { $what } حتى البرود
do-set-aside = ضعوا { $what } جانبًا
do-serve = قدّموا { $what }
do-feed = أطعموا الطفل { $what }

cue-soft = الليونة
cue-very-soft = الليونة التامة
cue-tender = الطراوة
cue-thick = التماسك
cue-smooth = النعومة
cue-done = النضج
cue-cooked = النضج
cue-firm = التماسك
cue-golden = اللون الذهبي
cue-hot = السخونة
cue-warm = الدفء
cue-cool = البرود
cue-dry = الجفاف
cue-wilted = الذبول
cue-it-thickens = التماسك
cue-it-boils = الغليان

## States of food

state-dry = بحالة جافة
state-dried = بعد التجفيف
state-raw = بحالة نيئة
state-cooked = بعد الطبخ
state-boiled = بعد السلق
state-roasted = بعد الشي
state-toasted = بعد التحميص
state-fried = بعد القلي
state-steamed = بعد الطبخ على البخار
state-baked = بعد الخبز في الفرن
state-smoked = بعد التدخين
state-tinned = من العلبة
state-canned = من العلبة
state-sprouted = بعد الإنبات
state-fermented = بعد التخمير
state-peeled = من دون قشر
state-unpeeled = مع القشر
state-cubed = مكعبات
state-diced = مكعبات صغيرة
state-chopped = قطع صغيرة
state-finely-chopped = قطع صغيرة جدًا
state-sliced = شرائح
state-grated = بعد البشر
state-mashed = بعد الهرس
state-ground = بعد الطحن
state-minced = بعد الفرم
state-whole = بلا تقطيع
state-halved = أنصاف
state-quartered = أرباع
state-boned = من دون عظم
state-shelled = من دون قشر صلب
state-pitted = من دون نواة
state-washed = بعد الغسل
state-smooth = ناعم بلا قطع
state-ripe = بحالة ناضجة
state-fresh = بحالة طازجة
state-young = بحالة غضّة
state-flaked = فتات
state-pounded = بعد الدق
state-shredded = شرائط رفيعة
state-iodised = مع اليود
state-pasteurised = بعد البسترة
state-soft = بحالة طرية
state-split = أنصاف مفلوقة
state-plain = بلا إضافات
state-powdered = مسحوق

## Cautions that rules put beside a step

caution-raw-kidney-bean = لا تأكلوا هذه الفاصولياء نصف ناضجة أبدًا. انقعوها، وارموا ماء النقع، ثم أبقوها على غليان قوي { $minutes } دقيقة على الأقل.
caution-raw-meat = اطبخوا حتى لا يبقى لون وردي ويصير العصير صافيًا.
caution-raw-fish = اطبخوا حتى يتماسك اللحم ويتفتت.
caution-raw-fish-dried = السمك المجفف نيء: حمّصوه حتى يتقصف أو اسلقوه حتى يلين.
caution-raw-egg = اطبخوا حتى يتماسك البيض كله. يجب ألا يبقى شيء سائل.
caution-raw-milk = اغلوا الحليب قبل إعطائه للطفل.
caution-choke-bones = تحسّسوا العظم بأصابع نظيفة. أخرجوا كل عظمة.
caution-nut-paste = اخلطوا المعجون جيدًا. لا تعطوه وحده بالملعقة أبدًا.
caution-raw-cassava = قشّروا الكسافا واطبخوها حتى تنضج تمامًا. لا تعطوها نيئة أبدًا. لا تستعملوا الكسافا المرة أبدًا.
caution-mould-prone = قبل استعمال { $what } ارموا كل ما فيه عفن أو انكماش أو مرارة.
caution-liver = الكثير من الكبد قد يضر الطفل: التزموا الكمية، ولا أكثر من مرة في الأسبوع.
caution-nitrate-leaf = كلوا الطعام الذي فيه أوراق حين يجهز. لا تبقوه دافئًا.
caution-first-time = في المرة الأولى أعطوا القليل فقط من طعام فيه { $what }. راقبوا ظهور طفح أو تورم.

## The back

back-title = ما تعطيه الحصة الواحدة
back-explain = كل شريط هو الجزء الذي تغطيه حصة واحدة من حاجة اليوم.
energy-label = الطاقة
energy-explain = حاجة الطاقة هي ما يجب أن يأتي به الطعام في اليوم إلى جانب حليب الأم.
energy-density = { $n } kcal/g
kcal = { $n } kcal
kJ = { $n } kJ
percent = { $n }٪
at-least = على الأقل
unknown = غير معروف
no-need-set = لم تُحدَّد حاجة
limit-most = { $amount } في اليوم على الأكثر

group-energy-growth = الطاقة والنمو
group-blood = الدم
group-eyes-defence = العيون والمناعة
group-bones = العظام
group-nerves = الأعصاب
group-salt = الملح
group-other = غير ذلك

nutrient-PROCNT = البروتين
nutrient-FAT = الدهون
nutrient-FIBTG = الألياف
nutrient-ZN = الزنك
nutrient-FE = الحديد
nutrient-FOLDFE = الفولات
nutrient-FOL = الفولات
nutrient-VITB12 = فيتامين ب12
nutrient-VITC = فيتامين ج
nutrient-CU = النحاس
nutrient-VITA_RAE = فيتامين أ
nutrient-CA = الكالسيوم
nutrient-P = الفوسفور
nutrient-MG = المغنيسيوم
nutrient-VITD = فيتامين د
nutrient-THIA = الثيامين
nutrient-RIBF = الريبوفلافين
nutrient-NIA = النياسين
nutrient-VITB6A = فيتامين ب6
nutrient-CHOLN = الكولين
nutrient-NA = الصوديوم
nutrient-K = البوتاسيوم
nutrient-SE = السيلينيوم
nutrient-ID = اليود
nutrient-TOCPHA = فيتامين هـ
nutrient-VITK1 = فيتامين ك
nutrient-MN = المنغنيز
nutrient-PANTAC = حمض البانتوثنيك
nutrient-SUGAR = السكريات
nutrient-F18D3CN3 = أوميغا-3
nutrient-F18D2 = أوميغا-6

food-groups-title = مجموعات الطعام في هذا الطبق
food-group-breast-milk = حليب الأم
food-group-grains = الحبوب والجذور والدرنات
food-group-pulses = البقول والمكسرات والبذور
food-group-dairy = منتجات الحليب
food-group-flesh = اللحم والسمك والكبد
food-group-eggs = البيض
food-group-vitamin-a = فواكه وخضر غنية بفيتامين أ
food-group-other-plants = فواكه وخضر أخرى

allergens-title = يحتوي على
allergens-none = لا يحتوي على أي من مسببات الحساسية المذكورة
allergens-family = في حصة العائلة فقط
allergen-gluten = الغلوتين
allergen-crustacea = القشريات
allergen-eggs = البيض
allergen-fish = السمك
allergen-peanuts = الفول السوداني
allergen-milk = الحليب
allergen-sesame = السمسم
allergen-tree-nuts = المكسرات
allergen-soya = الصويا
allergen-oats = الشوفان
allergen-buckwheat = الحنطة السوداء
allergen-celery = الكرفس
allergen-lupin = الترمس
allergen-mustard = الخردل
allergen-molluscs = الرخويات (المحار)
allergen-sulphite = الكبريتيت

claims-title = الأقوال وأساسها
claim-source-of = مصدر: { $what }
claim-rich-in = غني بما يلي: { $what }
claim-low-in = قليل: { $what }
claim-free-of = خالٍ من: { $what }
claim-basis = { $ages }: { $value } في الحصة، والمطلوب { $threshold }
claim-basis-bound = { $ages }: { $value } على الأقل في الحصة، والمطلوب { $threshold }
claim-basis-100g = { $value } في 100 غ، والمسموح { $threshold } على الأكثر
claims-note = للطبخ في البيت. لا يجوز أن يقول ذلك طعام معبأ للأطفال الصغار إلا إذا سمح به قانون البلد (Codex CXG 23-1997, 1.4).

texture-title = مدى الليونة
texture-thick-mashed = كثيف ومهروس جيدًا؛ يثبت على الملعقة.
texture-minced-finger = مفروم ناعمًا أو مهروس، مع قطع لينة يمسكها الطفل.
texture-family-chopped = طعام العائلة، مقطع أو مهروس عند الحاجة.

figures-title = من أين الأرقام
figures-usda = التركيب: USDA SR28 (ملك عام).
figures-table = التركيب: جدول { $table }.
figures-dish = جزء منه طبق آخر: { $dish }.
figures-borrowed = أرقام طعام مشابه بدل: { $foods }.
figures-retention = الفقد في الطبخ: عوامل USDA، الإصدار 6.
figures-measures = الكوب = { $cup } مل، الملعقة الكبيرة = { $tbsp } مل، الملعقة الصغيرة = { $tsp } مل.
figures-profile = الحاجات: { $title }، الطبعة { $edition }.
figures-profile-amended = الحاجات: { $title }، الطبعة { $edition }، على أساس { $base }، الطبعة { $base_edition }.
profile-cautious-international = إرشادات دولية، الأرقام الأكثر حذرًا
figures-switched-off = موقوف هنا: { $rule } ({ $reason }).
figures-lowered = يُحكم فيه هنا بشدة أقل: { $rule } ({ $reason }).
figures-cooked-weighed = وزن الطعام المطبوخ مقيس.
figures-cooked-estimated = وزن الطعام المطبوخ { $grams } تقدير.
figures-estimated = ≈ تعني أن الوزن تقدير.
figures-at-least = «على الأقل»: رقم أحد الأطعمة غير معروف.
figures-volume-assumed = وزن الحصة تقدير.
figures-reviewed = روجع في { $date }؛ راجعه: { $by }.
figures-reviewed-date = روجع في { $date }.
figures-source = مصدر الطبق: { $source }.
figures-program = صُنع ببرنامج Porringer { $version }.

standing-guidance = اتبعوا إرشادات بلدكم ونصيحة العامل الصحي. استمروا في الرضاعة الطبيعية.
standing-help = ابقوا مع الطفل وهو يأكل. إذا اختنق، أو ظهر طفح أو تورم، أو كان مريضًا، فاطلبوا المساعدة فورًا.
absorption-helps-flesh = قد يساعد اللحم أو السمك في هذا الطعام على امتصاص الحديد والزنك.
absorption-helps-vitamin-c = قد يساعد فيتامين ج في هذا الطعام على امتصاص الحديد.
absorption-hinders-phytate = قد تعيق الفيتات في هذا الطعام امتصاص الزنك أو الحديد أو الكالسيوم.
absorption-hinders-tea = قد يعيق الشاي أو القهوة في هذا الطعام امتصاص الحديد.
standing-figures = الأرقام محسوبة لا مقيسة. وهي لا تغني عن المشورة لطفل بعينه.

## A day's menu

menu-ages-alt = العمر بالأشهر. هذا اليوم للأطفال في عمر { $text }.
menu-breastfed = يرضع من أمه
menu-not-breastfed = لا يرضع من أمه
menu-strip-alt = اليوم كخط، وعليه علامة حين يأكل الطفل: { $times }.
menu-eat-label = ما يأكله الطفل
menu-breast-milk = حليب الأم نهارًا وليلًا، كلما أراد الطفل.
menu-work-label = يوم الطبخ
menu-day-before = في اليوم السابق، { $time }
menu-days-before = قبل { $n } أيام، { $time }
menu-work-wait = { $what }: { $time }. من أجل: { $meals }.
menu-work-pot = قدر واحدة من أجل: { $meals }. { $what }: { $time }.
menu-work-cook = ابدأوا «{ $dish }»: { $time }. من أجل: { $meals }.
menu-work-cook-hands = ابدأوا «{ $dish }»: { $time }، منها { $work } عمل. من أجل: { $meals }.
clock = { $hour }:{ $minute }
clock-hour = { $hour }
clock-morning = صباحًا
clock-noon = بعد الظهر
clock-evening = مساءً
clock-night = ليلًا
meal-meal = وجبة
meal-snack = وجبة خفيفة
meal-breakfast = الفطور
meal-lunch = الغداء
meal-supper = العشاء
meal-dinner = العشاء
meal-morning = الصباح
meal-mid-morning = الضحى
meal-midday = الظهر
meal-afternoon = بعد الظهر
meal-evening = المساء
meal-bedtime = قبل النوم
menu-back-title = ما يعطيه اليوم
menu-back-explain = كل شريط هو الجزء الذي يغطيه الطعام وحليب الأم معًا من حاجة اليوم.
menu-back-explain-not-breastfed = كل شريط هو الجزء الذي يغطيه الطعام من حاجة اليوم.
menu-energy-food = الطاقة من الطعام
menu-energy-all = الطاقة كلها
menu-groups-title = مجموعات الطعام: { $n } من { $all }؛ يلزم { $needed } على الأقل
menu-times = الوجبات: { $meals }. الوجبات الخفيفة: { $snacks }. يحتاج الطفل إلى أن يأكل { $needed } مرات في اليوم على الأقل.
menu-short-title = ما ينقص، وما يفيد
menu-short-line = { $what } { $share }: يكفي لسدّه { $foods }.
menu-short-line-none = { $what } { $share }: لا يسدّه طعام وحده؛ اسألوا عن المكملات.
menu-short-none = لا ينقص شيء مما هو معروض هنا.
figures-menu-dishes = أرقام الأطباق على بطاقاتها.
figures-milk = حليب الأم، { $ages }: { $ml } و{ $kcal } في اليوم في المتوسط ({ $source }، { $year }؛ الكمية { $status })؛ ما فيه: USDA SR28، السطر 1107.
figures-breastfed-assumed = محسوب لطفل يرضع من أمه؛ القائمة لا تقول ذلك.
figures-menu-source = مصدر القائمة: { $source }.
status-checked = تحقق منها
status-computed = محسوبة
status-memory = لم يُتحقق منها بعد
standing-guidance-not-breastfed = اتبعوا إرشادات بلدكم ونصيحة العامل الصحي.

## The sheet for a cooking demonstration

demo-heading = عرض للطبخ
demo-for-label = من أجل
demo-for = { $n ->
    [zero] { $count } طفل في عمر { $ages }
    [one] { $count } طفل في عمر { $ages }
    [two] { $count } طفلان في عمر { $ages }
    [few] { $count } أطفال في عمر { $ages }
    [many] { $count } طفلًا في عمر { $ages }
   *[other] { $count } طفل في عمر { $ages }
}
demo-each = كل طفل
demo-factor-label = الوصفة
demo-factor = × { $n }
demo-weight = الوزن
demo-bought = للشراء
demo-plus = { $first } + { $second }
demo-kilograms = { $n } كغ
demo-litres = { $n } لتر
demo-more = أكثر من الوصفة بمقدار { $n }
demo-less = أقل من الوصفة بمقدار { $n }
demo-before = قبل البدء
demo-pot = يجب أن تسع القدر { $litres } أو أكثر، حتى لا يملأ الطعام أكثر من ثلثيها.
demo-times = تبقى أوقات الطبخ كما هي. احسبوها من الغليان أو من سخونة المقلاة؛ القدر الكبيرة تحتاج إلى وقت أطول لتسخن.
demo-batches = ما يُقلى أو يُشوى أو يُخبز يوضع على دفعات. الوقت لكل دفعة.
demo-dish = حضّروا هذا أولًا: { $dish }.
demo-practice = حجم القدر والأوقات: ممارسة شائعة، بلا مصدر.
demo-rounded = الكميات مقرّبة إلى ما يمكن قياسه: لا يزيد فرق أي سطر على { $n }.
demo-refuse = ≥ قشر هذا الطعام وعظمه غير محسوبين: اشتروا أكثر.
demo-texts = الأعداد في نصوص الخطوات والنصائح هي للوصفة كما كُتبت.

## Pages for a browser

language-name = العربية
web-contents = المحتويات
web-around = الصفحات التالية
web-languages = بلغات أخرى
web-dishes = الأطباق
web-days = أيام كاملة
web-by-age = حسب العمر
web-by-food = حسب الطعام

## A booklet

booklet-page = صفحة { $n }
booklet-contents = المحتويات
booklet-notes = ملاحظات
booklet-dishes = { $n ->
    [zero] { $count } طبقًا
    [one] طبق واحد
    [two] طبقان
    [few] { $count } أطباق
    [many] { $count } طبقًا
   *[other] { $count } طبقًا
}
booklet-days = { $n ->
    [zero] { $count } يومًا كاملًا
    [one] يوم كامل
    [two] يومان كاملان
    [few] { $count } أيام كاملة
    [many] { $count } يومًا كاملًا
   *[other] { $count } يومًا كاملًا
}
booklet-ages-alt = العمر بالأشهر. هذا الكتيب للأطفال في عمر { $text }.
booklet-measures = كيف نقيس
booklet-level = املأوا الملعقة أو الكوب حتى يفيض، ثم مرّروا ظهر السكين على الحافة. هذا مقدار بمستوى الحافة. كل المقادير على البطاقات بمستوى الحافة ما لم يُكتب «ممتلئة فوق الحافة».
booklet-true-size = الملاعق والكوب أدناه مرسومة بحجمها الحقيقي. ضعوا ما عندكم فوقها.
booklet-check = { $cm } سم. إذا لم توافق مسطرتكم فالصفحة لم تُطبع بنسبة 100 %.
booklet-check-alt = خط طوله { $cm } سم، عليه علامة عند كل سنتيمتر
booklet-spoon = ملعقة مستديرة، عرضها من الداخل { $width } مم وعمقها نصف ذلك. الملعقة الطويلة أو المسطحة بهذا العرض تسع أقل.
booklet-spoon-alt = { $label }، من أعلى ومن الجانب، بالحجم الحقيقي: العرض { $width } مم، العمق { $depth } مم
booklet-cup = كوب مستقيم الجدران، عرضه من الداخل { $width } مم، مملوء حتى { $height } مم.
booklet-cup-alt = { $label }، من الجانب، بالحجم الحقيقي: العرض { $width } مم، الارتفاع { $height } مم، مع علامات لأجزائه
booklet-cup-mark = { $part } كوب = { $ml }
booklet-own-cup = هل لكوبكم شكل آخر؟ { $ml } من الماء تزن { $grams }. اسكبوها فيه وعلّموا الارتفاع على الجدار.
booklet-spoons-in-spoon = الملعقة الكبيرة تسع { $n } ملاعق صغيرة.
booklet-heaped = الملعقة أو الكوب الممتلئ فوق الحافة يُحسب { $n } بمستوى الحافة. ما تسعه الزيادة يتوقف على الطعام واليد (ممارسة شائعة، بلا مصدر).
booklet-pinch = الرشة ما يمسكه الإبهام والإصبع: { $n } رشة تملأ ملعقة صغيرة.
booklet-nutrients = ما تعطيه الحصة، طبقًا طبقًا
booklet-nutrients-explain = الرقم الأعلى هو الكمية في حصة واحدة، والأسفل هو الجزء من حاجة اليوم. وفي اليوم الكامل يُحسب الطعام وحليب الأم معًا.
booklet-dish = الطبق
booklet-index = الفهرس
booklet-index-food = حسب الطعام
booklet-index-age = حسب العمر
booklet-sources = المصادر
booklet-guidance = الوثائق وراء الحاجات والحدود والقواعد
booklet-source = { $n ->
    [zero] { $source }: { $count } رقمًا
    [one] { $source }: رقم واحد
    [two] { $source }: رقمان
    [few] { $source }: { $count } أرقام
    [many] { $source }: { $count } رقمًا
   *[other] { $source }: { $count } رقمًا
}
booklet-source-open = { $n ->
    [zero] { $source }: { $count } رقمًا، منها { $open } لم يُتحقق منه بعد
    [one] { $source }: رقم واحد، منها { $open } لم يُتحقق منه بعد
    [two] { $source }: رقمان، منها { $open } لم يُتحقق منه بعد
    [few] { $source }: { $count } أرقام، منها { $open } لم يُتحقق منه بعد
    [many] { $source }: { $count } رقمًا، منها { $open } لم يُتحقق منه بعد
   *[other] { $source }: { $count } رقمًا، منها { $open } لم يُتحقق منه بعد
}
booklet-source-all-open = { $n ->
    [zero] { $source }: { $count } رقمًا، لم يُتحقق منها بعد
    [one] { $source }: رقم واحد، لم يُتحقق منه بعد
    [two] { $source }: رقمان، لم يُتحقق منهما بعد
    [few] { $source }: { $count } أرقام، لم يُتحقق منها بعد
    [many] { $source }: { $count } رقمًا، لم يُتحقق منها بعد
   *[other] { $source }: { $count } رقمًا، لم يُتحقق منها بعد
}
booklet-dish-sources = من أين الأطباق
booklet-colophon = عن هذا الكتيب
booklet-programme = أعدّه
booklet-source-label = المصدر
booklet-reviewed = روجع
booklet-profile = الإرشادات
booklet-edition = { $title }، الطبعة { $edition } ({ $id })
booklet-amends = { $profile }، على أساس { $base }
booklet-tables = الجداول
booklet-usda = USDA National Nutrient Database for Standard Reference, release 28: { $n } طعامًا، ملك عام.
booklet-retention = USDA Table of Nutrient Retention Factors, release 6، ملك عام.
booklet-table = جدول { $table }: { $n } طعامًا.
booklet-measures-label = المقادير
booklet-type = الخط
booklet-type-text = Andika, SIL International, SIL Open Font License 1.1.
booklet-made = صُنع ببرنامج
booklet-print = اطبعوا بنسبة 100 % من دون ملاءمة للصفحة: الملاعق والكوب مرسومة بحجمها الحقيقي.
