//! What the preview answers. Names are looked up among the documents and cards
//! that are known; no path of a request ever reaches the file system.

use std::time::Duration;

use super::board::Board;
use super::http::{Answer, Request, decoded};
use crate::diagnostic::Code;

const PAGE: &str = include_str!("../../templates/preview/preview.html");
const STYLE: &str = include_str!("../../templates/preview/preview.css");
const ICON: &str = include_str!("../../templates/preview/preview.svg");
const SCRIPT: &str = include_str!("../../templates/preview/preview.js");

const JSON: &str = "application/json";
const TEXT: &str = "text/plain; charset=utf-8";

/// The page takes what it shows from here and nowhere else, and runs no script
/// but its own file.
const OF_THE_PAGE: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; \
    base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
/// A picture of a page holds its own styles and pictures, and no script.
const OF_A_PICTURE: &str =
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; sandbox";

/// How long an answer may wait for something new, and for a card to be set.
const NEWS: Duration = Duration::from_secs(20);
const SETTING: Duration = Duration::from_secs(30);

pub fn answer(board: &Board, request: &Request) -> Answer {
    let page = |kind, text: &'static str| Answer { policy: OF_THE_PAGE, ..Answer::new(kind, text.as_bytes()) };
    match request.path.as_str() {
        "/" => page("text/html; charset=utf-8", PAGE),
        "/preview.css" => page("text/css; charset=utf-8", STYLE),
        "/preview.js" => page("text/javascript; charset=utf-8", SCRIPT),
        "/preview.svg" => page("image/svg+xml", ICON),
        "/overview" => match board.overview(request.value("since").as_deref(), NEWS) {
            Some(json) => Answer::new(JSON, json),
            None => Answer::nothing(),
        },
        "/document" => match request.value("file").and_then(|file| board.document(&file)) {
            Some(json) => Answer::new(JSON, json),
            None => Answer::not_there(),
        },
        "/explain" => match request.value("code").and_then(|code| Code::from_name(&code)) {
            Some(code) => Answer::new(TEXT, code.page().as_bytes()),
            None => Answer::not_there(),
        },
        path => card(board, path).unwrap_or_else(Answer::not_there),
    }
}

/// `/cards/NAME.pdf`, or `/cards/KEY/NAME.1.svg`: a page of just these bytes.
fn card(board: &Board, path: &str) -> Option<Answer> {
    let rest = path.strip_prefix("/cards/")?;
    if let Some(name) = rest.strip_suffix(".pdf") {
        let name = decoded(name);
        let pages = board.shown(&name, SETTING)?;
        let answer = Answer::new("application/pdf", pages.pdf.clone());
        return Some(Answer { name: Some(format!("{name}.pdf")), ..answer });
    }
    let (key, file) = rest.split_once('/')?;
    let (name, number) = file.strip_suffix(".svg")?.rsplit_once('.')?;
    let number: usize = number.parse().ok()?;
    let pages = board.pages(&decoded(name), key, SETTING)?;
    let svg = pages.svg.get(number.checked_sub(1)?)?;
    Some(Answer { policy: OF_A_PICTURE, ..Answer::new("image/svg+xml", svg.as_bytes()) })
}
