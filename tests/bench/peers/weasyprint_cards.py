"""The cards with WeasyPrint: a page of HTML and CSS, drawings as SVG."""

from html import escape

from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

import content

STYLE = """
@font-face { font-family: Card; src: url(file://FONTS/Andika-Regular.ttf) }
@font-face { font-family: Card; font-weight: bold; src: url(file://FONTS/Andika-Bold.ttf) }
@page { size: A5; margin: 9mm }
body { font: 9pt/1.16 Card; margin: 0 }
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


DRAWN = {}


def drawing(name, height):
    """A drawing as SVG, written once in every process."""
    if (name, height) not in DRAWN:
        drawn = content.DRAWINGS[name]
        parts = []
        for at, part in enumerate(drawn["parts"]):
            clip = ""
            if part["clip"]:
                label = f"{name}-{at}"
                parts.append(f'<clipPath id="{label}"><path d="{path_of(part["clip"])}"/></clipPath>')
                clip = f' clip-path="url(#{label})"'
            stroke = f'stroke="black" stroke-width="{part["stroke"]}"' if part["stroke"] else ""
            fill = "black" if part["fill"] else "none"
            parts.append(f'<path d="{path_of(part["path"])}" fill="{fill}" {stroke}{clip}/>')
        wide = drawn["width"]
        DRAWN[name, height] = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} 24" width="{wide * height / 24:.2f}pt"'
            f' height="{height}pt" stroke-linecap="round" stroke-linejoin="round">{"".join(parts)}</svg>'
        )
    return DRAWN[name, height]


def path_of(items):
    return "".join(f"{'Z' if operator == 'h' else operator.upper()}{' '.join(map(str, numbers))}" for operator, numbers in items)


def measures(measure):
    names, times = content.drawn(measure)
    words = [drawing(name, content.MEASURE) for name in names]
    return words[0] + f" <b>× {times}</b> " + "".join(words[1:]) if times else "".join(words)


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
            f"<tr><td>{measures(item['measure'])}</td><td><b>{escape(amount)}</b> {escape(food)}</td>"
            f'<td class="grams">{escape(grams)}</td></tr>'
        )
    out.append(f"</table><h2>{escape(card['method']['label'])}</h2><table>")
    for step in card["method"]["steps"]:
        sentence, time, rest, cautions = content.step_words(step)
        said = " ".join(f"{drawing('caution', 9)} <b>{escape(caution)}</b>" for caution in cautions)
        icon = "" if step["kind"] == "part" else drawing(content.step_drawing(step), content.ICON)
        clock = drawing("clock", 9) if time else ""
        out.append(
            f"<tr><td><b>{step['number_text'] or ''}</b></td><td>{icon}</td>"
            f"<td><b>{escape(sentence)} {clock} {escape(time)}</b> {escape(rest)} {said}</td></tr>"
        )
    out.append(f"</table><h2>{escape(card['portions']['label'])}</h2>")
    for item in card["portions"]["items"]:
        words = f"{item['age']} <b>{escape(item['text'])}</b> ({item['grams']})"
        out.append(f"<p>{measures(item['measure'])} {words}</p>")
    out.extend(f"<p><b>{escape(label)}:</b> {escape(text)}</p>" for label, text in content.remarks(card))
    out.append(f"<h2></h2><p>{drawing('caution', 13)} {escape(' '.join(card['standing']))}</p>")
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
    out.append(f"<h2></h2><p class=\"small\">{drawing('caution', 12)} <b>{escape(' '.join(data['standing']))}</b> {escape(card['footer'] or '')}</p>")
    return "".join(out)


def make(card, path, fonts):
    page = f'<html lang="{card["lang"]}"><title>{escape(card["title"])}</title><body>{front(card)}{back(card)}</body></html>'
    HTML(string=page).write_pdf(path, stylesheets=[sheet(fonts)], font_config=CONFIGURATION)


if __name__ == "__main__":
    content.run(make)
