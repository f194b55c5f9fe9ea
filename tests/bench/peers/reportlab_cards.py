"""The cards with ReportLab: a page of paragraphs, bars and simple drawings."""

from reportlab.lib.pagesizes import A5
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject
from reportlab.platypus import Paragraph
from xml.sax.saxutils import escape

import content

WIDTH, HEIGHT = A5
EDGE = 9 * mm
INNER = WIDTH - 2 * EDGE


def fonts(folder):
    if "Card" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont("Card", f"{folder}/Andika-Regular.ttf"))
        pdfmetrics.registerFont(TTFont("Card-Bold", f"{folder}/Andika-Bold.ttf"))
        pdfmetrics.registerFontFamily("Card", normal="Card", bold="Card-Bold", italic="Card", boldItalic="Card-Bold")


def given(words):
    return words not in (None, "")


STYLES = {}


def style(size, bold=False, leading=1.16):
    key = (size, bold, leading)
    if key not in STYLES:
        STYLES[key] = ParagraphStyle(
            "s", fontName="Card-Bold" if bold else "Card", fontSize=size, leading=size * leading
        )
    return STYLES[key]


class Page:
    def __init__(self, canvas):
        self.canvas, self.y = canvas, HEIGHT - EDGE

    def text(self, words, size=9, bold=False, left=0, right=0):
        paragraph = Paragraph(words, style(size, bold))
        _, height = paragraph.wrapOn(self.canvas, INNER - left - right, HEIGHT)
        self.y -= height
        paragraph.drawOn(self.canvas, EDGE + left, self.y)
        return height

    def rule(self):
        self.y -= 2
        self.canvas.setLineWidth(1)
        self.canvas.line(EDGE, self.y, WIDTH - EDGE, self.y)
        self.y -= 1

    def right(self, words, size, y):
        self.canvas.setFont("Card", size)
        self.canvas.drawRightString(WIDTH - EDGE, y, words)

    def drawing(self, name, x, y, height):
        """A drawing with its lower left corner at (x, y)."""
        canvas = self.canvas
        canvas.saveState()
        canvas.translate(x, y + height)
        canvas.scale(height / 24, -height / 24)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for path, fill, stroke, clip in drawing(name):
            if clip:
                canvas.saveState()
                canvas.clipPath(clip, stroke=0, fill=0)
            if stroke:
                canvas.setLineWidth(stroke)
            canvas.drawPath(path, stroke=int(stroke is not None), fill=int(fill))
            if clip:
                canvas.restoreState()
        canvas.restoreState()

    def measures(self, names, times, x, y):
        for at, name in enumerate(names):
            self.drawing(name, x, y, content.MEASURE)
            x += content.span([name], content.MEASURE)
            if times and at == 0:
                self.canvas.setFont("Card-Bold", content.BODY)
                self.canvas.drawString(x, y + 4, f"× {times}")
                x += 20

    def row(self, words, size, left, height, right=0, bold=False):
        """Words beside a drawing: at least as high as it. Gives where the row begins."""
        top = self.y
        self.text(words, size, bold, left, right)
        self.y = min(self.y, top - height)
        return top


DRAWN = {}


def drawing(name):
    """The paths of a drawing, made once in every process."""
    if name not in DRAWN:
        DRAWN[name] = [
            (path_of(part["path"]), part["fill"], part["stroke"], path_of(part["clip"]) if part["clip"] else None)
            for part in content.DRAWINGS[name]["parts"]
        ]
    return DRAWN[name]


def path_of(items):
    path = PDFPathObject()
    for operator, numbers in items:
        {"m": path.moveTo, "l": path.lineTo, "c": path.curveTo, "h": path.close}[operator](*numbers)
    return path


def front(page, card):
    canvas = page.canvas
    page.text(escape(card["title"]), 15, True)
    page.right(card["programme"] or "", 8, page.y - 8)
    page.text(f"{escape(card['ages']['label'])} <b>{escape(card['ages']['text'])}</b>", 9)
    months = card["ages"]["months"]
    each = INNER / len(months)
    page.y -= 13
    for at, month in enumerate(months):
        canvas.rect(EDGE + at * each, page.y, each, 11, stroke=1, fill=int(month["on"]))
        canvas.setFillGray(1 if month["on"] else 0)
        canvas.setFont("Card", 7.5)
        canvas.drawCentredString(EDGE + (at + 0.5) * each, page.y + 3, str(month["month"]))
        canvas.setFillGray(0)
    times = [f"{escape(time['label'])} <b>{escape(time['text'])}</b>" for time in card["times"]]
    if card["makes"]:
        times.append(f"{escape(card['makes']['label'])} <b>{escape(card['makes']['text'])}</b>")
    if card["start"]:
        times.append(escape(card["start"]))
    page.text(" &nbsp; ".join(times), 9.5)
    page.rule()
    page.text(escape(card["ingredients"]["label"]), 11, True)
    heading = None
    for title, item in content.ingredients(card):
        if title != heading and title:
            page.text(escape(title), 8.5, True)
        heading = title
        amount, food, grams = content.words_of(item)
        names, times = content.drawn(item["measure"])
        left = max(24, content.span(names, content.MEASURE) + (24 if times else 4))
        top = page.row(f"<b>{escape(amount)}</b> {escape(food)}", content.BODY, left, content.MEASURE + 1, right=50)
        page.measures(names, times, EDGE, top - content.MEASURE)
        page.right(grams, content.BODY, top - content.BODY)
    page.rule()
    page.text(escape(card["method"]["label"]), 11, True)
    for step in card["method"]["steps"]:
        sentence, time, rest, cautions = content.step_words(step)
        said = f"<b>{escape(sentence)}</b> <b>{escape(time)}</b> {escape(rest)} " + " ".join(
            f"<b>{escape(caution)}</b>" for caution in cautions
        )
        if step["kind"] == "part":
            page.text(said, content.BODY)
            continue
        top = page.row(said, content.BODY, 18 + content.ICON, content.ICON + 1)
        canvas.setFont("Card-Bold", 14)
        canvas.drawString(EDGE, top - 13, step["number_text"] or "")
        page.drawing(content.step_drawing(step), EDGE + 14, top - content.ICON, content.ICON)
        if given(step["duration"]):
            page.drawing("clock", EDGE + INNER - 9, top - 11, 9)
        if cautions:
            page.drawing("caution", EDGE + INNER - 20, top - 11, 9)
    page.rule()
    page.text(escape(card["portions"]["label"]), 11, True)
    for item in card["portions"]["items"]:
        names, times = content.drawn(item["measure"])
        words = f"{item['age']} <b>{escape(item['text'])}</b> ({item['grams']})"
        top = page.row(words, content.BODY, max(24, content.span(names, content.MEASURE) + 4), content.MEASURE + 1)
        page.measures(names, times, EDGE, top - content.MEASURE)
    for label, text in content.remarks(card):
        page.text(f"<b>{escape(label)}:</b> {escape(text)}", 9.2)
    page.rule()
    page.drawing("caution", EDGE, page.y - 14, 13)
    page.text(escape(" ".join(card["standing"])), 9, left=18)


def back(page, card):
    data, canvas = card["back"], page.canvas
    page.text(escape(data["title"]), 12, True)
    page.right(card["title"], 8, page.y + 3)
    page.text(escape(data["explain"]), 8)
    bands = data["bands"]
    name = 62 * mm / 2
    column = (INNER - 2 * name) / max(len(bands), 1)
    start = lambda at: EDGE + 2 * name + at * column
    page.y -= 22
    for at, band in enumerate(bands):
        canvas.setFont("Card-Bold", 8.5)
        canvas.drawString(start(at), page.y + 11, band["label"])
        canvas.setFont("Card", 8.5)
        canvas.drawString(start(at), page.y + 1, band["portion"])
    page.rule()

    def bar(at, y, share):
        full = column * 0.42
        canvas.setLineWidth(0.5)
        canvas.line(start(at), y + 3, start(at) + full, y + 3)
        canvas.rect(start(at), y, min(share or 0, 1.15) * full, 6, stroke=0, fill=1)
        canvas.line(start(at) + full, y - 1, start(at) + full, y + 7)

    page.y -= 22
    canvas.setFont("Card-Bold", 9)
    canvas.drawString(EDGE, page.y + 10, data["energy_label"])
    for at, cell in enumerate(data["energy"]):
        canvas.drawString(start(at), page.y + 11, f"{cell['kcal']}  {cell['density']}")
        bar(at, page.y, cell["share"])
        canvas.drawRightString(start(at) + column * 0.6, page.y, cell["share_text"] or "")
    for group in data["groups"]:
        page.rule()
        canvas.setFont("Card-Bold", 8)
        canvas.drawString(EDGE, page.y - 9, group["title"])
        for row in group["rows"]:
            page.y -= 10.4
            canvas.setFont("Card", 8.4)
            canvas.drawString(EDGE + name * 0.95, page.y, row["name"])
            for at, cell in enumerate(row["cells"]):
                bar(at, page.y, cell["share"])
                canvas.setFont("Card-Bold", 8.4)
                canvas.drawRightString(start(at) + column * 0.6, page.y, cell["share_text"] or "–")
                canvas.setFont("Card", 8.4)
                canvas.drawString(start(at) + column * 0.62, page.y, f"{'≥ ' if cell['at_least'] else ''}{cell['amount']}")
    page.rule()
    for title, text in content.small_print(card):
        page.text(f"<b>{escape(title)}:</b> {escape(text)}", 8)
    page.rule()
    page.drawing("caution", EDGE, page.y - 13, 12)
    page.text(f"<b>{escape(' '.join(data['standing']))}</b> {escape(card['footer'] or '')}", 7.8, left=16)


def make(card, path, folder):
    fonts(folder)
    canvas = Canvas(path, pagesize=A5, pageCompression=1, lang=card["lang"])
    canvas.setTitle(card["title"])
    front(Page(canvas), card)
    canvas.showPage()
    back(Page(canvas), card)
    canvas.showPage()
    canvas.save()


if __name__ == "__main__":
    content.run(make)
