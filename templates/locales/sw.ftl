# Words of the card in Swahili (East Africa). A translator edits this file.
# Numbers arrive as text that is already written for the language; where the
# plural matters a number comes with them as $n.
# Swahili puts the noun before the number. Words of state and size take no
# noun class here, because the food they stand beside is not known: so "bila
# maganda", "baada ya kupikwa", "saizi ndogo". Cues are infinitives likewise.

## Ages and times

ages-label = Kwa watoto wa
ages-range = miezi { $from } hadi { $to }
ages-one = miezi { $from }
ages-from = miezi { $from } na zaidi
ages-alt = Umri kwa miezi. Chakula hiki ni cha watoto wa { $text }.
band = miezi { $from } hadi { $to }

time-hands-on = Kazi
time-total = Muda wote
time-minutes = dakika { $n }
time-hours = masaa { $n }
time-hour = saa { $n }
time-both = { $hours } na { $minutes }
time-days = { $n ->
    [one] siku { $text }
   *[other] siku { $text }
}
time-seconds = sekunde { $text }
time-overnight = usiku kucha
time-whistles = { $n ->
    [one] mluzi { $text }
   *[other] miluzi { $text }
}
time-range = { $low } hadi { $high }
time-open = zaidi: baadhi ya hatua hazina muda
start-evening = Anza jioni, siku moja kabla
start-days = { $n ->
    [one] Anza siku moja kabla
   *[other] Anza siku { $count } kabla
}
start-early = Anza muda wa saa { $hours } kabla ya mlo

makes-label = Unapata
portion-label = Mlo mmoja wa mtoto
usual-amount = karibu { $amount }

## Numbers, lists, amounts

range = { $low } hadi { $high }
amount = { $unit } { $number }
amount-heaped = { $unit } { $number } kwa kujaza juu ya ukingo
amount-level = { $unit } { $number } kwa usawa wa ukingo
amount-sized = { $unit } { $number } { $size }
amount-size-only = { $number }, { $size }
amount-of-food = { $food }: { $amount }
title-in-line = lower
portions-of = { $n ->
    [one] sehemu { $number } ya { $amount }
   *[other] sehemu { $number } za { $amount }
}
portions = { $n ->
    [one] sehemu { $number }
   *[other] sehemu { $number }
}
portion-share = { $n ->
    [one] chakula chote
   *[other] sehemu 1 kati ya { $count }
}
to-taste = kiasi unachopenda
or = au { $what }
comma = ,
stop = .
colon = :
grams = gramu { $n }
millilitres = mililita { $n }

unit-cup = { $n ->
    [one] kikombe
   *[other] vikombe
}
unit-tbsp = { $n ->
    [one] kijiko kikubwa
   *[other] vijiko vikubwa
}
unit-tsp = { $n ->
    [one] kijiko kidogo
   *[other] vijiko vidogo
}
unit-mL = mililita
unit-L = { $n ->
    [one] lita
   *[other] lita
}
unit-g = gramu
unit-kg = kilo
unit-mg = miligramu
unit-cm = sentimita
unit-pinch = { $n ->
    [one] mfinyo
   *[other] mifinyo
}
unit-dash = { $n ->
    [one] mnyunyizo
   *[other] minyunyizo
}
unit-handful = { $n ->
    [one] konzi
   *[other] konzi
}
unit-piece = { $n ->
    [one] kipande
   *[other] vipande
}
unit-clove = { $n ->
    [one] punje
   *[other] punje
}
unit-leaf = { $n ->
    [one] jani
   *[other] majani
}
unit-slice = { $n ->
    [one] kipande chembamba
   *[other] vipande vyembamba
}
unit-bunch = { $n ->
    [one] fungu
   *[other] mafungu
}
unit-stalk = { $n ->
    [one] shina
   *[other] mashina
}
unit-sprig = { $n ->
    [one] kitawi
   *[other] vitawi
}
unit-segment = { $n ->
    [one] kipande
   *[other] vipande
}
unit-wedge = { $n ->
    [one] pande
   *[other] mapande
}
unit-head = { $n ->
    [one] kichwa
   *[other] vichwa
}
unit-pod = { $n ->
    [one] ganda
   *[other] maganda
}
unit-cob = { $n ->
    [one] gunzi
   *[other] magunzi
}
unit-fillet = { $n ->
    [one] mnofu
   *[other] minofu
}
unit-stick = { $n ->
    [one] kijiti
   *[other] vijiti
}
unit-cube = { $n ->
    [one] kipande cha mraba
   *[other] vipande vya mraba
}
unit-drop = { $n ->
    [one] tone
   *[other] matone
}
size-small = saizi ndogo
size-medium = saizi ya kati
size-large = saizi kubwa

measure-alt = { $amount }, mchoro umejazwa kiasi hicho

## Sections

ingredients-label = Mahitaji
family-title = Kwa familia tu, baada ya kutenga chakula cha mtoto
method-label = Jinsi ya kutengeneza
serve-label = Kumpa mtoto
store-label = Kuhifadhi
tip-label = Kidokezo
caution-label = Tahadhari
note-label = Maelezo

## Steps

set-aside = Tenga sehemu ya mtoto sasa.
set-aside-why = Hatua zinazofuata ni za chakula cha familia, si cha mtoto.
unattended = Si lazima ukae hapo.
everything = vyote
the-rest = vilivyobaki
child-portion = sehemu ya mtoto
the-pot = chakula
the-batter = rojo
the-dough = donge la unga
the-porridge = uji
sentence-order = verb-first
ingredient-order = food-first
water = maji
piece-with = pamoja na { $what }
piece-with-fill = kwa { $what }
piece-in = katika { $what }
piece-heat-low = kwa moto mdogo
piece-heat-medium = kwa moto wa kati
piece-heat-high = kwa moto mkali
piece-celsius = kwa joto la { $n } °C
until = hadi { $cue }
sentence-join = { $first } { $rest }

do-wash = Osha { $what }
do-rinse = Suuza { $what }
do-clean = Safisha { $what }
do-sort = Chambua { $what }
do-peel = Menya { $what }
do-trim = Safisha { $what }, ondoa sehemu zisizofaa
do-shell = Menya { $what }
do-stone = Pasua { $what }, ondoa kokwa
do-bone = Chambua { $what }, ondoa mifupa na miiba yote
do-crumble = Vunjavunja { $what }
do-flake = Nyambua { $what }
do-scoop = Chota { $what } kwa kijiko
do-halve = Kata { $what } nusu nusu
do-quarter = Kata { $what } robo robo
do-cut = Kata { $what }
do-slice = Kata { $what } vipande vyembamba
do-dice = Kata { $what } vipande vidogo vya mraba
do-chop = Katakata { $what }
do-shred = Kata { $what } vipande vyembamba sana
do-mince = Katakata { $what } vipande vidogo sana
do-grate = Kwangua { $what }
do-mash = Ponda { $what }
do-crush = Pondaponda { $what }
do-pound = Twanga { $what }
do-press = Kandamiza { $what }
do-squeeze = Kamua { $what }
do-puree = Ponda { $what } hadi kuwa laini kabisa
do-blend = Saga { $what } kwa blenda
do-grind = Saga { $what }
do-mill = Saga { $what } hadi kuwa unga
do-sieve = Chekecha { $what }
do-strain = Chuja { $what }
do-beat = Koroga { $what } kwa nguvu
do-whisk = Koroga { $what } haraka haraka
do-knead = Kanda { $what }
do-roll = Viringisha { $what }
do-shape = Finyanga { $what }
do-dry = Kausha { $what }
do-soak = Loweka { $what }
do-drain = Chuja { $what }
do-sprout = Otesha { $what }
do-ferment = Chachusha { $what }
do-rest = Acha { $what } hapo
do-stand = Acha { $what } hapo
do-leave = Acha { $what } hapo
do-boil = Chemsha { $what }
do-cook = Pika { $what }
do-blanch = Tumbukiza { $what } katika maji yanayochemka
do-simmer = Chemsha { $what } taratibu
do-stew = Pika { $what } taratibu katika mchuzi
do-braise = Pika { $what } taratibu kwa maji kidogo
do-poach = Pika { $what } taratibu katika maji ya moto
do-thicken = Pika { $what } hadi kuwa nzito
do-steam = Pika { $what } kwa mvuke
do-pressure-cook = Pika { $what } katika sufuria ya presha
do-fry = Kaanga { $what }
do-deep-fry = Kaanga { $what } katika mafuta mengi
do-brown = Kaanga { $what } hadi kuwa kahawia
do-scramble = Kaanga { $what } huku ukivuruga
do-stir-fry = Kaanga { $what } huku ukikoroga
do-saute = Kaanga { $what } taratibu
do-soften = Lainisha { $what } katika kikaango
do-roast = Choma { $what }
do-grill = Choma { $what } juu ya moto
do-bake = Oka { $what }
do-toast = Kaanga { $what } kidogo bila mafuta
do-dry-roast = Kaanga { $what } bila mafuta
do-warm = Pasha { $what } moto kidogo
do-reheat = Pasha { $what } moto tena
do-heat = Pasha { $what } moto
do-melt = Yeyusha { $what }
do-add = Ongeza { $what }
do-pour = Mimina { $what }
do-put = Weka { $what }
do-place = Weka { $what }
do-sprinkle = Nyunyiza { $what } juu yake
do-top = Weka { $what } juu
do-season = Tia { $what } kwa ladha
do-mix = Changanya { $what }
do-stir = Koroga { $what }
do-combine = Weka { $what } pamoja
do-fold = Changanya { $what } taratibu
do-dissolve = Koroga { $what } hadi kuyeyuka
do-fill = Jaza { $what }
do-spread = Tandaza { $what }
do-wrap = Funga { $what }
do-coat = Paka { $what } pande zote
do-divide = Gawanya { $what }
do-cover = Funika { $what }
do-cool = Poza { $what }
do-set-aside = Tenga { $what }
do-serve = Pakua { $what }
do-feed = Mlishe mtoto { $what }

cue-soft = kulainika
cue-very-soft = kulainika sana
cue-tender = kulainika vizuri
cue-thick = kuwa nzito
cue-smooth = kuwa laini bila madonge
cue-done = kuiva
cue-cooked = kuiva kabisa
cue-firm = kuwa imara
cue-golden = kuwa rangi ya dhahabu
cue-hot = kuwa moto
cue-warm = kuwa vuguvugu
cue-cool = kupoa
cue-dry = kukauka
cue-wilted = kunyauka
cue-it-thickens = kuanza kuwa nzito
cue-it-boils = kuchemka

## States of food

state-dry = kavu
state-dried = kavu
state-raw = mbichi
state-cooked = baada ya kupikwa
state-boiled = baada ya kuchemshwa
state-roasted = baada ya kuchomwa
state-toasted = baada ya kukaangwa bila mafuta
state-fried = baada ya kukaangwa
state-steamed = baada ya kupikwa kwa mvuke
state-baked = baada ya kuokwa
state-smoked = baada ya kukaushwa kwa moshi
state-tinned = kutoka kwenye kopo
state-canned = kutoka kwenye kopo
state-sprouted = baada ya kuoteshwa
state-fermented = baada ya kuchachushwa
state-peeled = bila maganda
state-unpeeled = pamoja na maganda
state-cubed = vipande vya mraba
state-diced = vipande vidogo vya mraba
state-chopped = vipande vidogo
state-finely-chopped = vipande vidogo sana
state-sliced = vipande vyembamba
state-grated = baada ya kukwanguliwa
state-mashed = baada ya kupondwa
state-ground = baada ya kusagwa
state-minced = baada ya kusagwa
state-whole = kamili
state-halved = kwa nusu nusu
state-quartered = kwa robo robo
state-boned = bila mifupa wala miiba
state-shelled = bila maganda
state-pitted = bila kokwa
state-washed = baada ya kuoshwa
state-smooth = laini, bila vipande
state-ripe = mbivu
state-fresh = freshi
state-young = changa
state-flaked = baada ya kunyambuliwa
state-pounded = baada ya kutwangwa
state-shredded = vipande vyembamba sana
state-iodised = yenye madini joto
state-pasteurised = baada ya kusindikwa kwa joto
state-soft = laini
state-split = baada ya kupasuliwa
state-plain = bila kuongezwa kitu
state-powdered = ya unga

## Cautions that rules put beside a step

caution-raw-kidney-bean = Usile maharagwe haya kabla hayajaiva. Loweka, mwaga maji hayo, kisha chemsha kwa nguvu dakika { $minutes } au zaidi.
caution-raw-meat = Pika hadi isibaki sehemu nyekundu wala ya waridi, na maji yake yasiwe na damu.
caution-raw-fish = Pika hadi nyama ya samaki iwe imara na iachane yenyewe.
caution-raw-fish-dried = Samaki wakavu bado ni wabichi: wakaange hadi wavunjike, au wachemshe hadi walainike.
caution-raw-egg = Pika hadi yai liive kabisa. Kisibaki chochote kibichi au majimaji.
caution-raw-milk = Chemsha maziwa hadi yatokote kabla ya kumpa mtoto.
caution-choke-bones = Tafuta mifupa na miiba kwa vidole safi. Ondoa yote, usibakishe hata mmoja.
caution-nut-paste = Changanya siagi hiyo vizuri katika chakula. Usimpe mtoto kamwe ikiwa peke yake kwenye kijiko.
caution-raw-cassava = Menya muhogo na uupike hadi uive kabisa. Usimpe mtoto kamwe muhogo mbichi. Tumia muhogo mtamu tu, usitumie muhogo mchungu.
caution-mould-prone = Kabla ya kutumia { $what }, tupa chochote chenye ukungu, kilichosinyaa au kilicho kichungu.
caution-liver = Maini yakizidi yanaweza kumdhuru mtoto: usizidishe kiasi hiki, na usimpe zaidi ya mara moja kwa wiki.
caution-nitrate-leaf = Chakula chenye majani kiliwe mara tu kinapokuwa tayari. Usikiweke kikae kikiwa vuguvugu.
caution-first-time = Mara ya kwanza, mpe chakula kidogo tu chenye { $what }. Angalia vipele au uvimbe.

## The back

back-title = Sehemu moja inatoa nini
back-explain = Kila upau ni sehemu ya mahitaji ya siku inayotolewa na mlo mmoja.
energy-label = Nishati
energy-explain = Kwa nishati, ni mahitaji ya chakula kwa siku, mbali na maziwa ya mama.
energy-density = { $n } kcal/g
kcal = { $n } kcal
kJ = { $n } kJ
percent = { $n }%
at-least = angalau
unknown = haijulikani
no-need-set = bila kiwango
limit-most = isizidi { $amount } kwa siku

group-energy-growth = Nishati na ukuaji
group-blood = Damu
group-eyes-defence = Macho na kinga
group-bones = Mifupa
group-nerves = Mishipa ya fahamu
group-salt = Chumvi
group-other = Nyingine

nutrient-PROCNT = Protini
nutrient-FAT = Mafuta
nutrient-FIBTG = Nyuzinyuzi
nutrient-ZN = Zinki
nutrient-FE = Chuma
nutrient-FOLDFE = Foleti
nutrient-FOL = Foleti
nutrient-VITB12 = Vitamini B12
nutrient-VITC = Vitamini C
nutrient-CU = Shaba (kopa)
nutrient-VITA_RAE = Vitamini A
nutrient-CA = Kalsiamu
nutrient-P = Fosforasi
nutrient-MG = Magnesiamu
nutrient-VITD = Vitamini D
nutrient-THIA = Thiamini
nutrient-RIBF = Riboflavini
nutrient-NIA = Niasini
nutrient-VITB6A = Vitamini B6
nutrient-CHOLN = Kolini
nutrient-NA = Sodiamu
nutrient-K = Potasiamu
nutrient-SE = Seleniamu
nutrient-ID = Iodini
nutrient-TOCPHA = Vitamini E
nutrient-VITK1 = Vitamini K
nutrient-MN = Manganizi
nutrient-PANTAC = Asidi ya pantotheni
nutrient-SUGAR = Sukari
nutrient-F18D3CN3 = Omega-3
nutrient-F18D2 = Omega-6

food-groups-title = Makundi ya vyakula katika mlo huu
food-group-breast-milk = Maziwa ya mama
food-group-grains = Nafaka, mizizi, viazi
food-group-pulses = Maharagwe, karanga, mbegu
food-group-dairy = Maziwa na vyakula vya maziwa
food-group-flesh = Nyama, samaki, maini
food-group-eggs = Mayai
food-group-vitamin-a = Matunda na mboga zenye vitamini A nyingi
food-group-other-plants = Matunda na mboga nyingine

allergens-title = Ndani yake kuna
allergens-none = Ndani yake hakuna chakula chochote kilicho katika orodha ya vinavyoleta mzio
allergens-family = Katika sehemu ya familia tu
allergen-gluten = gluteni
allergen-crustacea = kamba, kaa na jamii yao
allergen-eggs = yai
allergen-fish = samaki
allergen-peanuts = karanga
allergen-milk = maziwa
allergen-sesame = ufuta
allergen-tree-nuts = korosho, lozi na jamii yake
allergen-soya = soya
allergen-oats = oti
allergen-buckwheat = ngano nyeusi (buckwheat)
allergen-celery = seleri
allergen-lupin = lupini
allergen-mustard = haradali
allergen-molluscs = chaza na jamii yake (moluska)
allergen-sulphite = salfaiti

claims-title = Maelezo na msingi wake
claim-source-of = Chanzo cha { $what }
claim-rich-in = Kuna { $what } kwa wingi
claim-low-in = Kuna { $what } kwa kiasi kidogo
claim-free-of = Hakuna { $what }
claim-basis = { $ages }: { $value } kwa mlo, inahitajika { $threshold }
claim-basis-bound = { $ages }: angalau { $value } kwa mlo, inahitajika { $threshold }
claim-basis-100g = { $value } katika gramu 100; isizidi { $threshold }
claims-note = Kwa kupika nyumbani. Chakula cha watoto kilichofungashwa hakiruhusiwi maelezo haya, ila sheria ya nchi ikiruhusu (Codex CXG 23-1997, 1.4).

texture-title = Ulaini wa chakula
texture-thick-mashed = Kizito, kimepondwa vizuri; kinakaa kwenye kijiko.
texture-minced-finger = Kimekatwa vipande vidogo sana au kupondwa; vipande laini vya kushika.
texture-family-chopped = Chakula cha familia, kimekatwa au kupondwa inapohitajika.

figures-title = Takwimu zinatoka wapi
figures-usda = Virutubishi vya vyakula: USDA SR28 (huru kwa umma).
figures-table = Virutubishi vya vyakula: jedwali { $table }.
figures-dish = Sehemu yake moja ni pishi lingine: { $dish }.
figures-borrowed = Takwimu za chakula kinachofanana zimetumika kwa: { $foods }.
figures-retention = Upotevu wakati wa kupika: viwango vya ubakizaji vya USDA, toleo la 6.
figures-measures = Kikombe 1 = mililita { $cup }, kijiko kikubwa 1 = mililita { $tbsp }, kijiko kidogo 1 = mililita { $tsp }.
figures-profile = Mahitaji: { $title }, toleo { $edition }.
figures-profile-amended = Mahitaji: { $title }, toleo { $edition }, juu ya { $base }, toleo { $base_edition }.
profile-cautious-international = Miongozo ya kimataifa, takwimu za tahadhari zaidi
figures-switched-off = Imezimwa hapa: { $rule } ({ $reason }).
figures-lowered = Imelegezwa hapa: { $rule } ({ $reason }).
figures-cooked-weighed = Uzito baada ya kupika ulipimwa.
figures-cooked-estimated = Uzito baada ya kupika, { $grams }, ni makadirio.
figures-estimated = ≈ ni alama ya uzito uliokadiriwa.
figures-at-least = “Angalau”: takwimu ya chakula fulani haijulikani.
figures-volume-assumed = Uzito wa sehemu moja ni makadirio.
figures-reviewed = Imekaguliwa { $date } na { $by }.
figures-reviewed-date = Imekaguliwa { $date }.
figures-source = Pishi linatoka: { $source }.
figures-program = Imetengenezwa kwa Porringer { $version }.

standing-guidance = Fuata miongozo ya nchi yako na ushauri wa mhudumu wa afya. Endelea kumnyonyesha mtoto.
standing-help = Kaa na mtoto anapokula. Akipaliwa au kusakamwa na chakula, akipata vipele au uvimbe, au akiwa mgonjwa, tafuta msaada mara moja.
absorption-helps-flesh = Nyama au samaki huenda ikasaidia mwili kupata chuma na zinki.
absorption-helps-vitamin-c = Vitamini C huenda ikasaidia mwili kupata chuma.
absorption-hinders-phytate = Fitati huenda ikazuia mwili kupata zinki, chuma au kalsiamu.
absorption-hinders-tea = Chai au kahawa huenda ikazuia mwili kupata chuma.
standing-figures = Takwimu zimekokotolewa, hazikupimwa. Hazichukui nafasi ya ushauri kwa mtoto fulani.

## Menyu ya siku

menu-ages-alt = Umri kwa miezi. Siku hii ni ya watoto wa { $text }.
menu-breastfed = anayenyonya
menu-not-breastfed = asiyenyonya
menu-strip-alt = Siku kama mstari, wenye alama pale mtoto anapokula: { $times }.
menu-eat-label = Mtoto anakula nini
menu-breast-milk = Maziwa ya mama mchana na usiku, kila mtoto anapotaka.
menu-work-label = Siku ya mpishi
menu-day-before = siku moja kabla, { $time }
menu-days-before = siku { $n } kabla, { $time }
menu-work-wait = { $what }: { $time }. Ni kwa { $meals }.
menu-work-pot = Sufuria moja kwa { $meals }. { $what }: { $time }.
menu-work-cook = Anza “{ $dish }”: { $time }. Ni kwa { $meals }.
menu-work-cook-hands = Anza “{ $dish }”: { $time }, kazi yenyewe { $work }. Ni kwa { $meals }.
clock = saa { $swahili }:{ $minute } { $part }
clock-hour = { $swahili }
clock-morning = asubuhi
clock-noon = mchana
clock-evening = jioni
clock-night = usiku
meal-meal = Mlo
meal-snack = Kitafunio
meal-breakfast = Kifungua kinywa
meal-lunch = Chakula cha mchana
meal-supper = Chakula cha jioni
meal-dinner = Chakula cha jioni
meal-morning = Asubuhi
meal-mid-morning = Katikati ya asubuhi
meal-midday = Mchana
meal-afternoon = Alasiri
meal-evening = Jioni
meal-bedtime = Kabla ya kulala
menu-back-title = Siku hii inatoa nini
menu-back-explain = Kila upau ni sehemu ya mahitaji ya siku inayotolewa na chakula pamoja na maziwa ya mama.
menu-back-explain-not-breastfed = Kila upau ni sehemu ya mahitaji ya siku inayotolewa na chakula.
menu-energy-food = Nishati ya chakula
menu-energy-all = Nishati yote
menu-groups-title = Makundi ya vyakula: { $n } kati ya { $all }; yanahitajika angalau { $needed }
menu-times = Milo: { $meals }. Vitafunio: { $snacks }. Mtoto anahitaji kula angalau mara { $needed } kwa siku.
menu-short-title = Kinachopungua, na kinachoweza kusaidia
menu-short-line = { $what } { $share }: { $foods } ingetosheleza.
menu-short-line-none = { $what } { $share }: hakuna chakula kimoja kinachotosheleza; uliza kuhusu virutubishi vya nyongeza.
menu-short-none = Hakuna kinachopungua kati ya vilivyoonyeshwa hapa.
figures-menu-dishes = Takwimu za mapishi ziko kwenye kadi zake.
figures-milk = Maziwa ya mama, { $ages }: { $ml } na { $kcal } kwa siku kwa wastani ({ $source }, { $year }; ujazo { $status }); virutubishi vyake: USDA SR28 safu 1107.
figures-breastfed-assumed = Imehesabiwa kwa mtoto anayenyonya; menyu haisemi.
figures-menu-source = Menyu inatoka: { $source }.
status-checked = umehakikiwa
status-computed = umekokotolewa
status-memory = bado kuhakikiwa
standing-guidance-not-breastfed = Fuata miongozo ya nchi yako na ushauri wa mhudumu wa afya.

## The sheet for a cooking demonstration

demo-heading = Maonyesho ya mapishi
demo-for-label = Kwa
demo-for = { $n ->
    [one] mtoto { $count } wa { $ages }
   *[other] watoto { $count } wa { $ages }
}
demo-each = Kila mtoto
demo-factor-label = Kipimo cha mapishi
demo-factor = mara { $n }
demo-weight = Uzito
demo-bought = Kununua
demo-plus = { $first } + { $second }
demo-kilograms = kilo { $n }
demo-litres = lita { $n }
demo-more = { $n } zaidi ya mapishi
demo-less = { $n } pungufu ya mapishi
demo-before = Kabla ya kuanza
demo-pot = Sufuria iwe ya { $litres } au zaidi, ili chakula kisizidi theluthi mbili zake.
demo-times = Muda wa kupika haubadiliki. Anza kuhesabu chakula kinapochemka au kikaango kinapopata moto; sufuria kubwa huchelewa kuchemka.
demo-batches = Vinavyokaangwa au kuokwa viwekwe kwa mafungu. Muda ni wa kila fungu.
demo-dish = Tengeneza hiki kwanza: { $dish }.
demo-practice = Ukubwa wa sufuria na muda: desturi ya kawaida, bila chanzo.
demo-rounded = Vipimo vimekadiriwa kwa vyombo vilivyopo: hakuna kinachotofautiana kwa zaidi ya { $n }.
demo-refuse = ≥ Maganda na mifupa ya chakula hiki havijahesabiwa: nunua zaidi.
demo-texts = Nambari zilizo katika maneno ya hatua na vidokezo ni za mapishi kama yalivyoandikwa.

## Kurasa za kivinjari

language-name = Kiswahili
web-contents = Yaliyomo
web-around = Kurasa jirani
web-languages = Kwa lugha nyingine
web-dishes = Mapishi
web-days = Siku nzima
web-by-age = Kwa umri
web-by-food = Kwa chakula

## A booklet

booklet-page = Ukurasa { $n }
booklet-contents = Yaliyomo
booklet-notes = Maelezo yako
booklet-dishes = { $n ->
    [one] Pishi 1
   *[other] Mapishi { $count }
}
booklet-days = { $n ->
    [one] Siku nzima 1
   *[other] Siku nzima { $count }
}
booklet-ages-alt = Miezi ya umri. Kijitabu hiki ni cha { $text }.
booklet-measures = Jinsi ya kupima
booklet-level = Jaza kijiko au kikombe hadi kifurike, kisha pitisha mgongo wa kisu juu ya ukingo. Hicho ni kipimo kwa usawa wa ukingo. Vipimo vyote kwenye kadi ni vya usawa huo, isipokuwa inaposemwa “kwa kujaza juu ya ukingo”.
booklet-true-size = Vijiko na kikombe hapa chini vimechorwa kwa ukubwa wake halisi. Weka vyako juu yake ulinganishe.
booklet-check = Sentimita { $cm }. Rula yako isipokubali, ukurasa haukuchapishwa kwa 100 %.
booklet-check-alt = Mstari wa sentimita { $cm }, wenye alama kila sentimita
booklet-spoon = Kijiko cha duara, upana wa ndani milimita { $width }, kina nusu ya upana. Kijiko kirefu au bapa cha upana huo hubeba kidogo zaidi.
booklet-spoon-alt = { $label }, kutoka juu na kutoka upande, kwa ukubwa halisi: upana milimita { $width }, kina milimita { $depth }
booklet-cup = Kikombe chenye kuta zilizonyooka, upana wa ndani milimita { $width }, kikijazwa hadi milimita { $height }.
booklet-cup-alt = { $label }, kutoka upande, kwa ukubwa halisi: upana milimita { $width }, kimo milimita { $height }, chenye alama za sehemu zake
booklet-cup-mark = kikombe { $part } = { $ml }
booklet-own-cup = Kikombe chako kina umbo lingine? Maji ya { $ml } yana uzito wa { $grams }. Mimina, kisha weka alama ya kimo ukutani.
booklet-spoons-in-spoon = Kijiko kikubwa hubeba vijiko vidogo { $n }.
booklet-heaped = Kijiko au kikombe kilichojazwa juu ya ukingo huhesabiwa kama { $n } kwa usawa wa ukingo. Kiasi hutegemea chakula na mkono (desturi, hakuna chanzo).
booklet-pinch = Mfinyo ni kile ambacho vidole viwili hushika: mifinyo { $n } hujaza kijiko kidogo.
booklet-nutrients = Kinachopatikana katika mlo, pishi kwa pishi
booklet-nutrients-explain = Namba ya juu ni kiasi katika mlo mmoja; ya chini ni sehemu ya mahitaji ya siku. Kwa siku nzima, chakula na maziwa ya mama huhesabiwa pamoja.
booklet-dish = Pishi
booklet-index = Faharasa
booklet-index-food = Kwa chakula
booklet-index-age = Kwa umri
booklet-sources = Vyanzo
booklet-guidance = Nyaraka za mahitaji, viwango na kanuni
booklet-source = { $source }: { $n ->
    [one] takwimu 1
   *[other] takwimu { $count }
}
booklet-source-open = { $source }: { $n ->
    [one] takwimu 1
   *[other] takwimu { $count }
}, kati yake { $open } bado kuthibitishwa
booklet-source-all-open = { $source }: { $n ->
    [one] takwimu 1
   *[other] takwimu { $count }
}, bado kuthibitishwa
booklet-dish-sources = Mapishi yametoka wapi
booklet-colophon = Kuhusu kijitabu hiki
booklet-programme = Kimetengenezwa na
booklet-source-label = Chanzo
booklet-reviewed = Kimehakikiwa
booklet-profile = Mwongozo
booklet-edition = { $title }, toleo { $edition } ({ $id })
booklet-amends = { $profile }, juu ya { $base }
booklet-tables = Majedwali
booklet-usda = USDA National Nutrient Database for Standard Reference, toleo la 28: vyakula { $n }, mali ya umma.
booklet-retention = USDA Table of Nutrient Retention Factors, toleo la 6, mali ya umma.
booklet-table = Jedwali { $table }: vyakula { $n }.
booklet-measures-label = Vipimo
booklet-type = Herufi
booklet-type-text = Andika, SIL International, SIL Open Font License 1.1.
booklet-made = Kimeundwa kwa
booklet-print = Chapisha kwa 100 %, bila kupunguza: vijiko na kikombe vimechorwa kwa ukubwa halisi.
