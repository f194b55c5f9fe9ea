"""The cards with ReportLab: a page of paragraphs, bars and simple drawings."""

from reportlab.lib.pagesizes import A5
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
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


def style(size, bold=False, leading=1.16):
    return ParagraphStyle("s", fontName="Card-Bold" if bold else "Card", fontSize=size, leading=size * leading)


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

    def measures(self, parts, y):
        for at, part in enumerate(parts):
            x = EDGE + at * 9
            self.canvas.rect(x, y, 6, 7, stroke=1, fill=0)
            self.canvas.rect(x, y, 6, 7 * part, stroke=0, fill=1)
            self.canvas.arc(x + 4, y + 1, x + 9, y + 6, 270, 180)

    def pot(self, y):
        path = self.canvas.beginPath()
        path.moveTo(EDGE + 14, y + 8)
        path.curveTo(EDGE + 14, y - 1, EDGE + 30, y - 1, EDGE + 30, y + 8)
        path.lineTo(EDGE + 14, y + 8)
        for x in (18, 22, 26):
            path.moveTo(EDGE + x, y + 10)
            path.curveTo(EDGE + x - 2, y + 12, EDGE + x + 2, y + 13, EDGE + x, y + 15)
        self.canvas.drawPath(path, stroke=1, fill=0)

    def warning(self, y):
        path = self.canvas.beginPath()
        path.moveTo(EDGE + 1, y)
        path.lineTo(EDGE + 11, y)
        path.lineTo(EDGE + 6, y + 9)
        path.close()
        self.canvas.drawPath(path, stroke=1, fill=0)


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
        parts = content.drawn(item)
        left = max(24, len(parts) * 9 + 4)
        page.text(f"<b>{escape(amount)}</b> {escape(food)}", 8.8, left=left, right=40)
        page.measures(parts, page.y + 1)
        page.right(grams, 8.8, page.y + 2)
    page.rule()
    page.text(escape(card["method"]["label"]), 11, True)
    for step in card["method"]["steps"]:
        sentence, time, rest, cautions = content.step_words(step)
        said = f"<b>{escape(sentence)}</b> <b>{escape(time)}</b> {escape(rest)} " + " ".join(
            f"<b>{escape(caution)}</b>" for caution in cautions
        )
        height = page.text(said, 8.6, left=36)
        canvas.setFont("Card-Bold", 13)
        canvas.drawString(EDGE, page.y + height - 11, str(step["number"] or ""))
        page.pot(page.y + height - 14)
        if cautions:
            page.warning(page.y)
    page.rule()
    portions = "; ".join(f"{item['age']} <b>{escape(item['text'])}</b> ({item['grams']})" for item in card["portions"]["items"])
    page.text(f"<b>{escape(card['portions']['label'])}</b>: {portions}", 8.8)
    for label, text in content.remarks(card):
        page.text(f"<b>{escape(label)}:</b> {escape(text)}", 8.3)
    page.rule()
    page.warning(page.y - 10)
    page.text(escape(" ".join(card["standing"])), 8, left=16)


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
    page.warning(page.y - 10)
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
