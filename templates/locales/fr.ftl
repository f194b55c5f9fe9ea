# Words of the card in French. A translator edits this file.
# Numbers arrive as text that is already written for the language; where the
# plural matters a number comes with them as $n.
# The food beside a word of state or size is not known here, nor its gender:
# so "en dés", "après cuisson", "de petite taille". A no-break space comes
# before a colon, a semicolon, a percent sign and a unit.

## Ages and times

ages-label = Pour les enfants de
ages-range = { $from } à { $to } mois
ages-one = { $from } mois
ages-from = { $from } mois et plus
ages-alt = Âge en mois. Le plat est pour les enfants de { $text }.
band = { $from } à { $to } mois

time-hands-on = Travail
time-total = En tout
time-minutes = { $n } min
time-hours = { $n } h
time-hour = { $n } h
time-both = { $hours } { $minutes }
time-days = { $n ->
    [one] { $text } jour
   *[other] { $text } jours
}
time-seconds = { $text } s
time-overnight = toute la nuit
time-whistles = { $n ->
    [one] { $text } sifflement
   *[other] { $text } sifflements
}
time-range = { $low } à { $high }
time-open = plus long : certaines étapes n’ont pas de durée
start-evening = Commencez la veille au soir
start-days = { $n ->
    [one] Commencez la veille
   *[other] Commencez { $count } jours avant
}
start-early = Commencez { $hours } heures avant le repas

makes-label = Donne
portion-label = Un repas de l’enfant
usual-amount = environ { $amount }

## Numbers, lists, amounts

range = { $low } à { $high }
amount = { $number } { $unit }
amount-heaped = { $number } { $unit } en dôme
amount-level = { $number } { $unit } à ras
amount-sized = { $number } { $unit } { $size }
amount-size-only = { $number } { $size }
amount-of-food = { $food } : { $amount }
title-in-line = lower
portions-of = { $number } { $n ->
    [one] portion
   *[other] portions
} de { $amount }
portions = { $number } { $n ->
    [one] portion
   *[other] portions
}
portion-share = { $n ->
    [one] tout le plat
   *[other] 1 portion sur { $count }
}
to-taste = selon le goût
or = ou { $what }
comma = ,
stop = .
colon =  :
grams = { $n } g
millilitres = { $n } mL

unit-cup = { $n ->
    [one] tasse
   *[other] tasses
}
unit-tbsp = { $n ->
    [one] cuillère à soupe
   *[other] cuillères à soupe
}
unit-tsp = { $n ->
    [one] cuillère à café
   *[other] cuillères à café
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
    [one] pincée
   *[other] pincées
}
unit-dash = { $n ->
    [one] trait
   *[other] traits
}
unit-handful = { $n ->
    [one] poignée
   *[other] poignées
}
unit-piece = { $n ->
    [one] morceau
   *[other] morceaux
}
unit-clove = { $n ->
    [one] gousse
   *[other] gousses
}
unit-leaf = { $n ->
    [one] feuille
   *[other] feuilles
}
unit-slice = { $n ->
    [one] tranche
   *[other] tranches
}
unit-bunch = { $n ->
    [one] botte
   *[other] bottes
}
unit-stalk = { $n ->
    [one] tige
   *[other] tiges
}
unit-sprig = { $n ->
    [one] brin
   *[other] brins
}
unit-segment = { $n ->
    [one] quartier
   *[other] quartiers
}
unit-wedge = { $n ->
    [one] quartier
   *[other] quartiers
}
unit-head = { $n ->
    [one] tête
   *[other] têtes
}
unit-pod = { $n ->
    [one] gousse entière
   *[other] gousses entières
}
unit-cob = { $n ->
    [one] épi
   *[other] épis
}
unit-fillet = { $n ->
    [one] filet
   *[other] filets
}
unit-stick = { $n ->
    [one] bâton
   *[other] bâtons
}
unit-cube = { $n ->
    [one] cube
   *[other] cubes
}
unit-drop = { $n ->
    [one] goutte
   *[other] gouttes
}
size-small = de petite taille
size-medium = de taille moyenne
size-large = de grande taille

measure-alt = { $amount }, dessin rempli d’autant

## Sections

ingredients-label = Ce qu’il faut
family-title = Pour la famille seulement, une fois la part de l’enfant mise de côté
method-label = Comment faire
serve-label = Servir
store-label = Garder
tip-label = Conseil
caution-label = Attention
note-label = Note

## Steps

set-aside = Mettez maintenant de côté la portion de l’enfant.
set-aside-why = La suite est pour le reste de la famille, pas pour l’enfant.
unattended = Vous n’avez pas besoin de rester à côté.
everything = tout
the-rest = le reste
child-portion = la portion de l’enfant
the-pot = la préparation
the-batter = la pâte
the-dough = la pâte
the-porridge = la bouillie
sentence-order = verb-first
ingredient-order = food-first
water = de l’eau
piece-with = avec { $what }
piece-with-fill = avec { $what }
piece-in = dans { $what }
piece-heat-low = à feu doux
piece-heat-medium = à feu moyen
piece-heat-high = à feu vif
piece-celsius = à { $n } °C
until = jusqu’à ce que { $cue }
sentence-join = { $first } { $rest }

do-wash = Lavez { $what }
do-rinse = Rincez { $what }
do-clean = Nettoyez { $what }
do-sort = Triez { $what }
do-peel = Pelez { $what }
do-trim = Parez { $what }
do-shell = Écossez { $what }
do-stone = Dénoyautez { $what }
do-bone = Désossez { $what }, retirez toutes les arêtes
do-crumble = Émiettez finement { $what }
do-flake = Émiettez { $what }
do-scoop = Prenez { $what } à la cuillère
do-halve = Coupez { $what } en deux
do-quarter = Coupez { $what } en quatre
do-cut = Coupez { $what }
do-slice = Coupez { $what } en tranches
do-dice = Coupez { $what } en petits dés
do-chop = Hachez { $what }
do-shred = Coupez { $what } en fines lanières
do-mince = Hachez { $what } très fin
do-grate = Râpez { $what }
do-mash = Réduisez { $what } en purée
do-crush = Écrasez { $what }
do-pound = Pilez { $what }
do-press = Pressez { $what }
do-squeeze = Pressez bien { $what }
do-puree = Travaillez { $what } en purée bien lisse
do-blend = Mixez { $what }
do-grind = Broyez { $what }
do-mill = Moulez { $what }
do-sieve = Tamisez { $what }
do-strain = Passez { $what }
do-beat = Battez { $what }
do-whisk = Fouettez { $what }
do-knead = Pétrissez { $what }
do-roll = Roulez { $what }
do-shape = Façonnez { $what }
do-dry = Faites sécher { $what }
do-soak = Faites tremper { $what }
do-drain = Égouttez { $what }
do-sprout = Faites germer { $what }
do-ferment = Laissez fermenter { $what }
do-rest = Laissez reposer { $what }
do-stand = Laissez reposer { $what }
do-leave = Laissez { $what }
do-boil = Faites bouillir { $what }
do-cook = Faites cuire { $what }
do-blanch = Plongez { $what } dans l’eau bouillante
do-simmer = Faites mijoter { $what }
do-stew = Faites cuire { $what } en ragoût
do-braise = Faites cuire { $what } à couvert avec peu d’eau
do-poach = Pochez { $what }
do-thicken = Faites épaissir { $what }
do-steam = Faites cuire { $what } à la vapeur
do-pressure-cook = Faites cuire { $what } à l’autocuiseur
do-fry = Faites frire { $what }
do-deep-fry = Faites frire { $what } dans beaucoup d’huile
do-brown = Faites dorer { $what }
do-scramble = Faites cuire { $what } en brouillant
do-stir-fry = Faites frire { $what } en remuant
do-saute = Faites revenir { $what }
do-soften = Faites ramollir { $what } à la poêle
do-roast = Faites rôtir { $what }
do-grill = Faites griller { $what }
do-bake = Faites cuire { $what } au four
do-toast = Faites griller un peu { $what }
do-dry-roast = Faites griller { $what } à sec dans la poêle
do-warm = Faites tiédir { $what }
do-reheat = Réchauffez { $what }
do-heat = Faites chauffer { $what }
do-melt = Faites fondre { $what }
do-add = Ajoutez { $what }
do-pour = Versez { $what }
do-put = Mettez { $what }
do-place = Mettez { $what }
do-sprinkle = Saupoudrez { $what } dessus
do-top = Mettez { $what } dessus
do-season = Assaisonnez avec { $what }
do-mix = Mélangez { $what }
do-stir = Remuez { $what }
do-combine = Mettez ensemble { $what }
do-fold = Incorporez doucement { $what }
do-dissolve = Faites dissoudre { $what }
do-fill = Remplissez { $what }
do-spread = Étalez { $what }
do-wrap = Enveloppez { $what }
do-coat = Enrobez { $what }
do-divide = Partagez { $what }
do-cover = Couvrez { $what }
do-cool = Laissez refroidir { $what }
do-set-aside = Mettez de côté { $what }
do-serve = Servez { $what }
do-feed = Donnez à l’enfant { $what }

cue-soft = ce soit mou
cue-very-soft = ce soit très mou
cue-tender = ce soit tendre
cue-thick = ce soit épais
cue-smooth = ce soit lisse
cue-done = ce soit prêt
cue-cooked = ce soit bien cuit
cue-firm = ce soit ferme
cue-golden = ce soit doré
cue-hot = ce soit très chaud
cue-warm = ce soit tiède
cue-cool = ce soit refroidi
cue-dry = ce soit sec
cue-wilted = ce soit ramolli
cue-it-thickens = cela épaississe
cue-it-boils = cela bouille

## States of food

state-dry = à l’état sec
state-dried = après séchage
state-raw = à l’état cru
state-cooked = après cuisson
state-boiled = après cuisson à l’eau
state-roasted = après rôtissage
state-toasted = après grillage à sec
state-fried = après friture
state-steamed = après cuisson à la vapeur
state-baked = après cuisson au four
state-smoked = après fumage
state-tinned = en conserve
state-canned = en conserve
state-sprouted = après germination
state-fermented = après fermentation
state-peeled = sans la peau
state-unpeeled = avec la peau
state-cubed = en cubes
state-diced = en petits dés
state-chopped = en petits morceaux
state-finely-chopped = en tout petits morceaux
state-sliced = en tranches
state-grated = après râpage
state-mashed = en purée
state-ground = après broyage
state-minced = en hachis
state-whole = entier
state-halved = en moitiés
state-quartered = en quatre
state-boned = sans os ni arêtes
state-shelled = sans la coque
state-pitted = sans noyau
state-washed = après lavage
state-smooth = lisse, sans morceaux
state-ripe = à maturité
state-fresh = à l’état frais
state-young = jeune
state-flaked = en miettes
state-pounded = après pilage
state-shredded = en fines lanières
state-iodised = iodé
state-pasteurised = pasteurisé
state-soft = tendre
state-split = cassé
state-plain = nature
state-powdered = en poudre

## Cautions that rules put beside a step

caution-raw-kidney-bean = Ne mangez jamais ces haricots à moitié cuits. Faites-les tremper, jetez cette eau, puis faites-les bouillir à gros bouillons au moins { $minutes } minutes.
caution-raw-meat = Faites cuire jusqu’à ce qu’il ne reste plus de rose et que le jus soit clair.
caution-raw-fish = Faites cuire jusqu’à ce que la chair soit ferme et se détache.
caution-raw-fish-dried = Le poisson séché est cru : grillez-le jusqu’à ce qu’il croustille, ou faites-le bouillir jusqu’à ce qu’il soit tendre.
caution-raw-egg = Faites cuire jusqu’à ce que l’œuf soit bien pris. Rien ne doit rester liquide.
caution-raw-milk = Faites bouillir le lait avant de le donner à l’enfant.
caution-choke-bones = Cherchez les os et les arêtes avec des doigts propres. Retirez-les tous.
caution-nut-paste = Mélangez bien la pâte à la nourriture. Ne donnez jamais la pâte seule à la cuillère.
caution-raw-cassava = Pelez le manioc et faites-le cuire à cœur. Ne le donnez jamais cru. Prenez seulement du manioc doux, jamais du manioc amer.
caution-mould-prone = Avant d’utiliser { $what }, jetez tout ce qui est moisi, ridé ou amer.
caution-liver = Trop de foie peut faire du mal à l’enfant : ne dépassez pas la quantité, et pas plus d’une fois par semaine.
caution-nitrate-leaf = Un plat avec des feuilles se mange dès qu’il est prêt. Ne le gardez pas au chaud.
caution-first-time = Allergènes : { $what }. La première fois, donnez-en très peu. Surveillez les boutons ou un gonflement.

## The back

back-title = Ce que donne une portion
back-explain = Chaque barre est la part du besoin d’une journée que couvre une portion.
energy-label = Énergie
energy-explain = Pour l’énergie : ce que les aliments doivent apporter par jour, en plus du lait maternel.
energy-density = { $n } kcal/g
kcal = { $n } kcal
kJ = { $n } kJ
percent = { $n } %
at-least = au moins
unknown = inconnu
no-need-set = besoin non fixé
limit-most = au plus { $amount } par jour

group-energy-growth = Énergie et croissance
group-blood = Sang
group-eyes-defence = Yeux et défenses
group-bones = Os
group-nerves = Nerfs
group-salt = Sel
group-other = Autres

nutrient-PROCNT = Protéines
nutrient-FAT = Lipides
nutrient-FIBTG = Fibres
nutrient-ZN = Zinc
nutrient-FE = Fer
nutrient-FOLDFE = Folates
nutrient-FOL = Folates
nutrient-VITB12 = Vitamine B12
nutrient-VITC = Vitamine C
nutrient-CU = Cuivre
nutrient-VITA_RAE = Vitamine A
nutrient-CA = Calcium
nutrient-P = Phosphore
nutrient-MG = Magnésium
nutrient-VITD = Vitamine D
nutrient-THIA = Thiamine
nutrient-RIBF = Riboflavine
nutrient-NIA = Niacine
nutrient-VITB6A = Vitamine B6
nutrient-CHOLN = Choline
nutrient-NA = Sodium
nutrient-K = Potassium
nutrient-SE = Sélénium
nutrient-ID = Iode
nutrient-TOCPHA = Vitamine E
nutrient-VITK1 = Vitamine K
nutrient-MN = Manganèse
nutrient-PANTAC = Acide pantothénique
nutrient-SUGAR = Sucres
nutrient-F18D3CN3 = Oméga-3
nutrient-F18D2 = Oméga-6

food-groups-title = Groupes d’aliments dans ce plat
food-group-breast-milk = Lait maternel
food-group-grains = Céréales, racines, tubercules
food-group-pulses = Haricots, noix, graines
food-group-dairy = Produits laitiers
food-group-flesh = Viande, poisson, foie
food-group-eggs = Œufs
food-group-vitamin-a = Fruits et légumes riches en vitamine A
food-group-other-plants = Autres fruits et légumes

allergens-title = Contient
allergens-none = Ne contient aucun des allergènes de la liste
allergens-family = Seulement dans la part de la famille
allergen-gluten = gluten
allergen-crustacea = crustacés
allergen-eggs = œuf
allergen-fish = poisson
allergen-peanuts = arachide (cacahuète)
allergen-milk = lait
allergen-sesame = sésame
allergen-tree-nuts = fruits à coque
allergen-soya = soja
allergen-oats = avoine
allergen-buckwheat = sarrasin
allergen-celery = céleri
allergen-lupin = lupin
allergen-mustard = moutarde
allergen-molluscs = mollusques (coquillages)
allergen-sulphite = sulfites

claims-title = Mentions et leur base
# "$tag" is the nutrient's INFOODS tag: names with accents or blanks cannot be
# told apart here.
claim-source-of = Source { $tag ->
    [ID] d’{ $what }
    [F18D3CN3] d’{ $what }
    [F18D2] d’{ $what }
    [PANTAC] d’{ $what }
   *[other] { $what ->
        [iode] d’{ $what }
       *[other] de { $what }
    }
}
claim-rich-in = Riche en { $what }
claim-low-in = Pauvre en { $what }
claim-free-of = Sans { $what }
claim-basis = { $ages } : { $value } par portion, il en faut { $threshold }
claim-basis-bound = { $ages } : au moins { $value } par portion, il en faut { $threshold }
claim-basis-100g = { $value } dans 100 g, au plus { $threshold } permis
claims-note = Pour la cuisine à la maison. Un aliment emballé pour jeunes enfants ne peut pas le dire, sauf si la loi du pays le permet (Codex CXG 23-1997, 1.4).

texture-title = Consistance
texture-thick-mashed = Épais et bien écrasé ; cela tient sur la cuillère.
texture-minced-finger = Haché très fin ou écrasé, avec des morceaux mous à prendre avec les doigts.
texture-family-chopped = Plat de la famille, coupé en petits morceaux ou écrasé si besoin.

figures-title = D’où viennent les chiffres
figures-usda = Composition : USDA SR28 (domaine public).
figures-table = Composition : table { $table }.
figures-dish = Une partie est un autre plat : { $dish }.
figures-borrowed = Chiffres d’un aliment proche pour : { $foods }.
figures-retention = Pertes à la cuisson : facteurs de rétention USDA, version 6.
figures-measures = 1 tasse = { $cup } mL, 1 cuillère à soupe = { $tbsp } mL, 1 cuillère à café = { $tsp } mL.
figures-profile = Besoins : { $title }, édition { $edition }.
figures-profile-amended = Besoins : { $title }, édition { $edition }, sur { $base }, édition { $base_edition }.
profile-cautious-international = Recommandations internationales, les chiffres les plus prudents
figures-switched-off = Désactivé ici : { $rule } ({ $reason }).
figures-lowered = Jugé moins strictement ici : { $rule } ({ $reason }).
figures-cooked-weighed = Le poids cuit a été mesuré.
figures-cooked-estimated = Le poids cuit, { $grams }, est une estimation.
figures-estimated = ≈ marque un poids estimé.
figures-at-least = « Au moins » : le chiffre d’un des aliments n’est pas connu.
figures-volume-assumed = Le poids d’une portion est une estimation.
figures-reviewed = Relu le { $date } par { $by }.
figures-reviewed-date = Relu le { $date }.
figures-source = Origine du plat : { $source }.
figures-program = Fait avec Porringer { $version }.

standing-guidance = Suivez les conseils officiels de votre pays et ceux de l’agent de santé. Continuez à allaiter.
standing-help = Restez avec l’enfant quand il mange. S’il s’étouffe, s’il a des boutons ou un gonflement, ou s’il est malade, cherchez de l’aide tout de suite.
absorption-helps-flesh = La viande ou le poisson de ce plat peut aider le corps à absorber le fer et le zinc.
absorption-helps-vitamin-c = La vitamine C de ce plat peut aider le corps à absorber le fer.
absorption-hinders-phytate = Les phytates de ce plat peuvent gêner l’absorption du zinc, du fer ou du calcium.
absorption-hinders-tea = Le thé ou le café de ce plat peut gêner l’absorption du fer.
standing-figures = Les chiffres sont calculés, pas mesurés. Ils ne remplacent pas les conseils donnés pour un enfant.

## Le menu d'une journée

menu-ages-alt = Âge en mois. La journée est pour { $text }.
menu-breastfed = allaité
menu-not-breastfed = non allaité
menu-strip-alt = La journée en une ligne, avec un repère là où l’enfant mange : { $times }.
menu-eat-label = Ce que mange l’enfant
menu-breast-milk = Le lait maternel jour et nuit, aussi souvent que l’enfant le veut.
menu-work-label = La journée de la cuisine
menu-day-before = la veille, { $time }
menu-days-before = { $n } jours avant, { $time }
menu-work-wait = { $what } : { $time }. Pour : { $meals }.
menu-work-pot = Une seule marmite pour : { $meals }. { $what } : { $time }.
menu-work-cook = Commencez « { $dish } » : { $time }. Pour : { $meals }.
menu-work-cook-hands = Commencez « { $dish } » : { $time }, dont { $work } de travail. Pour : { $meals }.
clock = { $hour } h { $minute }
clock-hour = { $hour } h
clock-morning = du matin
clock-noon = de l’après-midi
clock-evening = du soir
clock-night = de la nuit
meal-meal = Repas
meal-snack = Collation
meal-breakfast = Petit déjeuner
meal-lunch = Déjeuner
meal-supper = Repas du soir
meal-dinner = Dîner
meal-morning = Matin
meal-mid-morning = Milieu de matinée
meal-midday = Midi
meal-afternoon = Après-midi
meal-evening = Soir
meal-bedtime = Avant le coucher
menu-back-title = Ce que donne la journée
menu-back-explain = Chaque barre est la part du besoin d’une journée que couvrent ensemble les aliments et le lait maternel.
menu-back-explain-not-breastfed = Chaque barre est la part du besoin d’une journée que couvrent les aliments.
menu-energy-food = Énergie des aliments
menu-energy-all = Énergie en tout
menu-groups-title = Groupes d’aliments : { $n } sur { $all } ; il en faut au moins { $needed }
menu-times = Repas : { $meals }. Collations : { $snacks }. L’enfant doit manger au moins { $needed } fois par jour.
menu-short-title = Ce qui manque, et ce qui aiderait
menu-short-line = { $what } { $share } : pour combler, { $foods }.
menu-short-line-none = { $what } { $share } : aucun aliment seul n’y suffit ; demandez conseil sur les suppléments.
menu-short-none = Rien de ce qui est montré ici ne manque.
figures-menu-dishes = Les chiffres des plats sont sur leurs fiches.
figures-milk = Lait maternel, { $ages } : { $ml } et { $kcal } par jour en moyenne ({ $source }, { $year } ; volume { $status }) ; sa composition : USDA SR28, ligne 1107.
figures-breastfed-assumed = Calculé pour un enfant allaité ; le menu ne le dit pas.
figures-menu-source = Origine du menu : { $source }.
status-checked = vérifié
status-computed = calculé
status-memory = pas encore vérifié
standing-guidance-not-breastfed = Suivez les conseils officiels de votre pays et ceux de l’agent de santé.

## The sheet for a cooking demonstration

demo-heading = Démonstration de cuisine
demo-for-label = Pour
demo-for = { $n ->
    [one] { $count } enfant de { $ages }
   *[other] { $count } enfants de { $ages }
}
demo-each = Par enfant
demo-factor-label = Recette
demo-factor = × { $n }
demo-weight = Poids
demo-bought = À acheter
demo-plus = { $first } + { $second }
demo-kilograms = { $n } kg
demo-litres = { $n } litres
demo-more = { $n } de plus que la recette
demo-less = { $n } de moins que la recette
demo-before = Avant de commencer
demo-pot = La marmite doit contenir au moins { $litres }, pour que la préparation n’en remplisse pas plus des deux tiers.
demo-times = Les temps de cuisson ne changent pas. Comptez-les à partir de l’ébullition ou quand la poêle est chaude ; une grande marmite met plus longtemps à chauffer.
demo-batches = Faites frire, rôtir ou cuire au four en plusieurs fois. Le temps vaut pour chaque fois.
demo-dish = À préparer d’abord : { $dish }.
demo-practice = Taille de la marmite et temps : usage courant, sans source.
demo-rounded = Les quantités sont arrondies à ce qui se mesure : aucune ligne ne s’écarte de plus de { $n }.
demo-refuse = ≥ Les épluchures et les os de cet aliment ne sont pas comptés : achetez-en davantage.
demo-texts = Les nombres dans le texte des étapes et des conseils valent pour la recette telle qu’elle est écrite.

## Pages pour un navigateur

language-name = Français
web-contents = Sommaire
web-around = Pages voisines
web-languages = Dans d’autres langues
web-dishes = Plats
web-days = Journées entières
web-by-age = Par âge
web-by-food = Par aliment

## A booklet

booklet-page = Page { $n }
booklet-contents = Sommaire
booklet-notes = Notes
booklet-dishes = { $n ->
    [one] 1 plat
   *[other] { $count } plats
}
booklet-days = { $n ->
    [one] 1 journée entière
   *[other] { $count } journées entières
}
booklet-ages-alt = Mois d’âge. Le livret est pour { $text }.
booklet-measures = Comment mesurer
booklet-level = Remplissez la cuillère ou la tasse jusqu’à ce qu’elle déborde, puis passez le dos d’un couteau sur le bord. C’est une mesure à ras. Toutes les mesures des fiches sont à ras, sauf mention « en dôme ».
booklet-true-size = Les cuillères et la tasse ci-dessous sont dessinées en vraie grandeur. Posez les vôtres dessus.
booklet-check = { $cm } cm. Si votre règle n’est pas d’accord, la page n’a pas été imprimée à 100 %.
booklet-check-alt = Un trait de { $cm } cm, marqué à chaque centimètre
booklet-spoon = Une cuillère ronde, large de { $width } mm à l’intérieur et profonde de la moitié. Une cuillère longue ou plate de cette largeur contient moins.
booklet-spoon-alt = { $label }, vue de dessus et de côté, en vraie grandeur : { $width } mm de large, { $depth } mm de profondeur
booklet-cup = Une tasse aux parois droites, large de { $width } mm à l’intérieur, remplie jusqu’à { $height } mm.
booklet-cup-alt = { $label }, vue de côté, en vraie grandeur : { $width } mm de large, { $height } mm de haut, avec des repères pour ses parties
booklet-cup-mark = { $part } tasse = { $ml }
booklet-own-cup = Votre tasse a une autre forme ? { $ml } d’eau pèsent { $grams }. Versez-les et marquez la hauteur sur la paroi.
booklet-spoons-in-spoon = Une cuillère à soupe contient { $n } cuillères à café.
booklet-heaped = Une cuillère ou une tasse en dôme compte pour { $n } à ras. Ce qu’elle contient dépend de l’aliment et de la main (usage courant, sans source).
booklet-pinch = Une pincée est ce que tiennent le pouce et un doigt : { $n } pincées remplissent une cuillère à café.
booklet-nutrients = Ce qu’apporte une portion, plat par plat
booklet-nutrients-explain = Le chiffre du haut est la quantité dans une portion, celui du bas la part des besoins d’une journée. Pour une journée entière, les aliments et le lait maternel sont comptés ensemble.
booklet-dish = Plat
booklet-index = Index
booklet-index-food = Par aliment
booklet-index-age = Par âge
booklet-sources = Sources
booklet-guidance = Documents dont viennent les besoins, les limites et les règles
booklet-source = { $source } : { $n ->
    [one] 1 chiffre
   *[other] { $count } chiffres
}
booklet-source-open = { $source } : { $n ->
    [one] 1 chiffre
   *[other] { $count } chiffres
}, dont { $open } à vérifier encore
booklet-source-all-open = { $source } : { $n ->
    [one] 1 chiffre
   *[other] { $count } chiffres
}, à vérifier encore
booklet-dish-sources = D’où viennent les plats
booklet-colophon = À propos de ce livret
booklet-programme = Réalisé par
booklet-source-label = Source
booklet-reviewed = Relu
booklet-profile = Références
booklet-edition = { $title }, édition { $edition } ({ $id })
booklet-amends = { $profile }, d’après { $base }
booklet-tables = Tables
booklet-usda = USDA National Nutrient Database for Standard Reference, version 28 : { $n } aliments, domaine public.
booklet-retention = USDA Table of Nutrient Retention Factors, version 6, domaine public.
booklet-table = Table { $table } : { $n } aliments.
booklet-measures-label = Mesures
booklet-type = Caractères
booklet-type-text = Andika, SIL International, SIL Open Font License 1.1.
booklet-made = Composé avec
booklet-print = Imprimez à 100 %, sans ajuster à la page : les cuillères et la tasse sont dessinées en vraie grandeur.
