"""What the peers share: reading the cards, sharing them out over processes,
and the words of a card in the order in which its two pages say them.

    python SCRIPT cards.jsonl FOLDER PROCESSES FONTS drawings.json

`cards.jsonl` holds one card a line, in the data that templates read;
`drawings.json` every drawing as paths, 24 units high, with y downwards."""

import json
import multiprocessing
import os
import sys


DRAWINGS = {}
# Height of a measure and of a step's drawing, in points.
MEASURE, ICON = 14, 20
# More than that many of one measure are drawn as one with a number.
MOST, COUNTED = 6, ("cup", "tbsp", "tsp", "pinch", "handful", "piece")
# What the text of a card is set in, in points.
BODY = 9


def run(make):
    """Calls `make(card, path, fonts)` for every card."""
    cards, folder, processes, fonts, drawings = sys.argv[1:6]
    with open(drawings, encoding="utf-8") as file:
        DRAWINGS.update(json.load(file))
    os.makedirs(folder, exist_ok=True)
    with open(cards, encoding="utf-8") as lines:
        jobs = [(make, line, folder, fonts, at) for at, line in enumerate(lines)]
    if int(processes) == 1:
        for job in jobs:
            one(job)
        return
    with multiprocessing.get_context("fork").Pool(int(processes)) as pool:
        for _ in pool.imap_unordered(one, jobs, chunksize=4):
            pass


def one(job):
    make, line, folder, fonts, at = job
    card = json.loads(line)
    make(card, os.path.join(folder, f"{at}.pdf"), fonts)


def ingredients(card):
    """(heading or None, item) in order; the family's come last."""
    for section in card["ingredients"]["sections"]:
        for item in section["items"]:
            yield section["title"], item
    family = card["ingredients"]["family"]
    if family:
        for item in family["items"]:
            yield family["title"], item


def words_of(item):
    """Amount, food with its alternatives, weight."""
    food = " ".join([item["food"], *map(str, item["alternatives"])])
    grams = ("≈ " if item["estimated"] else "") + item["grams"]
    return item["amount"], food, grams


def drawn(measure):
    """Names of the drawings of a measure, and the number beside the first."""
    kind = (measure or {}).get("kind", "none")
    if kind == "none":
        return [], None
    count = measure.get("count") or {}
    whole, part = int(count.get("whole", 1)), count.get("fraction") or 0
    many = kind in COUNTED and whole > MOST
    if kind not in COUNTED:
        whole, part = 1, 0
    full = f"{kind}-1000" + ("-heaped" if measure.get("heaped") else "")
    names = [full] * (1 if many else whole) + ([f"{kind}-{part * 1000:.0f}"] if part else [])
    return names, measure.get("count_text") or str(whole) if many else None


def span(names, height):
    """Width of some drawings beside each other."""
    return sum(DRAWINGS[name]["width"] + 2.4 for name in names) * height / 24


def step_drawing(step):
    return step["process"] if step["process"] in DRAWINGS else "other"


def step_words(step):
    """The sentence; the time; the rest; the cautions."""
    rest = " ".join(text for text in (step["until"], step["prose"], step["unattended"]) if text)
    return step["sentence"] or step["title"] or "", step["duration"] or "", rest, step["cautions"]


def remarks(card):
    return [(remark["label"], remark["text"]) for remark in card["remarks"]]


def small_print(card):
    """(heading, text) of the back below the bars."""
    back, found = card["back"], []
    contains = back["allergens"]
    found.append((contains["title"], ", ".join(contains["items"]) or contains["none"] or ""))
    groups = back["food_groups"]
    found.append((groups["title"], "; ".join(item["name"] for item in groups["items"] if item["on"])))
    texture = back["texture"]
    if texture:
        found.append((texture["title"], " ".join(f"{item['age']}: {item['text']}" for item in texture["items"])))
    claims = back["claims"]
    if claims and claims["items"]:
        text = " ".join(f"{item['text']}. {item['basis']}" for item in claims["items"])
        found.append((claims["title"], f"{text} {claims['note'] or ''}"))
    found.append((back["figures"]["title"], " ".join(back["figures"]["lines"])))
    return found
