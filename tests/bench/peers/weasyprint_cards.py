"""The cards with WeasyPrint: a page of HTML and CSS, drawings as SVG."""

from html import escape

from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

import content

STYLE = """
@font-face { font-family: Card; src: url(file://FONTS/Andika-Regular.ttf) }
@font-face { font-family: Card; font-weight: bold; src: url(file://FONTS/Andika-Bold.ttf) }
@page { size: A5; margin: 9mm }
body { font: 8.6pt/1.16 Card; margin: 0 }
h1 { font-size: 15pt; margin: 0 } h2 { font-size: 11pt; margin: 0; border-top: 1pt solid }
p { margin: 0 } .back { break-before: page }
.months span { display: inline-block; width: 5.2%; border: .5pt solid; text-align: center; font-size: 7.5pt }
.months .on { background: black; color: white }
table { width: 100%; border-collapse: collapse } td { padding: 0; vertical-align: top }
.grams { text-align: right; white-space: nowrap } .group { border-top: .7pt solid }
.bar { width: 15%; } .bar svg { width: 100%; height: 6pt } .number { text-align: right }
.small { font-size: 8pt }
"""
CONFIGURATION = FontConfiguration()
SHEETS = {}


def sheet(fonts):
    if fonts not in SHEETS:
        SHEETS[fonts] = CSS(string=STYLE.replace("FONTS", fonts), font_config=CONFIGURATION)
    return SHEETS[fonts]


def measures(parts):
    shapes = "".join(
        f'<rect x="{at * 9}" y="0" width="6" height="7" fill="none" stroke="black"/>'
        f'<rect x="{at * 9}" y="{7 - 7 * part:.2f}" width="6" height="{7 * part:.2f}"/>'
        f'<path d="M{at * 9 + 6} 1a2.5 2.5 0 0 1 0 5" fill="none" stroke="black"/>'
        for at, part in enumerate(parts)
    )
    wide = max(len(parts) * 9, 1)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 {wide + 2} 9" width="{wide + 2}" height="9">{shapes}</svg>'


POT = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 18 18" width="18" height="18"><path d="M1 9C1 18 17 18 17 9Z'
    'M5 7c-2-2 2-3 0-5M9 7c-2-2 2-3 0-5M13 7c-2-2 2-3 0-5" fill="none" stroke="black"/></svg>'
)
WARNING = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 12 11" width="11" height="10">'
    '<path d="M1 10h10L6 1ZM6 4v3M6 8v1" fill="none" stroke="black"/></svg>'
)


def bar(share):
    return (
        '<td class="bar"><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 115 10" preserveAspectRatio="none">'
        f'<path d="M0 5H100M100 0V10" stroke="black"/><rect width="{min(share or 0, 1.15) * 100:.2f}" height="10"/></svg></td>'
    )


def front(card):
    out = [f"<h1>{escape(card['title'])}</h1>"]
    out.append(f"<p>{escape(card['ages']['label'])} <b>{escape(card['ages']['text'])}</b> {escape(card['programme'] or '')}</p>")
    months = "".join(f'<span class="{"on" if month["on"] else ""}">{month["month"]}</span>' for month in card["ages"]["months"])
    out.append(f'<p class="months">{months}</p>')
    times = [f"{escape(time['label'])} <b>{escape(time['text'])}</b>" for time in card["times"]]
    if card["makes"]:
        times.append(f"{escape(card['makes']['label'])} <b>{escape(card['makes']['text'])}</b>")
    if card["start"]:
        times.append(escape(card["start"]))
    out.append(f"<p>{' &nbsp; '.join(times)}</p><h2>{escape(card['ingredients']['label'])}</h2><table>")
    heading = None
    for title, item in content.ingredients(card):
        if title != heading and title:
            out.append(f'<tr><td colspan="3"><b>{escape(title)}</b></td></tr>')
        heading = title
        amount, food, grams = content.words_of(item)
        out.append(
            f"<tr><td>{measures(content.drawn(item))}</td><td><b>{escape(amount)}</b> {escape(food)}</td>"
            f'<td class="grams">{escape(grams)}</td></tr>'
        )
    out.append(f"</table><h2>{escape(card['method']['label'])}</h2><table>")
    for step in card["method"]["steps"]:
        sentence, time, rest, cautions = content.step_words(step)
        said = " ".join(f"{WARNING} <b>{escape(caution)}</b>" for caution in cautions)
        out.append(
            f"<tr><td><b>{step['number'] or ''}</b></td><td>{POT}</td>"
            f"<td><b>{escape(sentence)} {escape(time)}</b> {escape(rest)} {said}</td></tr>"
        )
    portions = "; ".join(f"{item['age']} <b>{escape(item['text'])}</b> ({item['grams']})" for item in card["portions"]["items"])
    out.append(f"</table><h2></h2><p><b>{escape(card['portions']['label'])}</b>: {portions}</p>")
    out.extend(f"<p><b>{escape(label)}:</b> {escape(text)}</p>" for label, text in content.remarks(card))
    out.append(f"<h2></h2><p>{WARNING} {escape(' '.join(card['standing']))}</p>")
    return "".join(out)


def back(card):
    data = card["back"]
    heads = "".join(f'<td colspan="3"><b>{escape(band["label"])}</b><br>{escape(band["portion"])}</td>' for band in data["bands"])
    out = [f'<h2 class="back">{escape(data["title"])}</h2><p class="small">{escape(data["explain"])}</p>']
    out.append(f'<table><tr><td colspan="2"></td>{heads}</tr><tr class="group"><td colspan="2"><b>{escape(data["energy_label"])}</b></td>')
    for cell in data["energy"]:
        out.append(f"{bar(cell['share'])}<td class=\"number\"><b>{cell['share_text'] or ''}</b></td><td>{cell['kcal']} {cell['density']}</td>")
    out.append("</tr>")
    for group in data["groups"]:
        for at, row in enumerate(group["rows"]):
            title = f"<b>{escape(group['title'])}</b>" if at == 0 else ""
            out.append(f'<tr class="{"group" if at == 0 else ""}"><td>{title}</td><td>{escape(row["name"])}</td>')
            for cell in row["cells"]:
                out.append(
                    f"{bar(cell['share'])}<td class=\"number\"><b>{cell['share_text'] or '–'}</b></td>"
                    f"<td>{'≥ ' if cell['at_least'] else ''}{escape(cell['amount'])}</td>"
                )
            out.append("</tr>")
    out.append("</table>")
    out.extend(f'<p class="small"><b>{escape(title)}:</b> {escape(text)}</p>' for title, text in content.small_print(card))
    out.append(f"<h2></h2><p class=\"small\">{WARNING} <b>{escape(' '.join(data['standing']))}</b> {escape(card['footer'] or '')}</p>")
    return "".join(out)


def make(card, path, fonts):
    page = f'<html lang="{card["lang"]}"><title>{escape(card["title"])}</title><body>{front(card)}{back(card)}</body></html>'
    HTML(string=page).write_pdf(path, stylesheets=[sheet(fonts)], font_config=CONFIGURATION)


if __name__ == "__main__":
    content.run(make)
