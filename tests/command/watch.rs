//! `porringer watch`: the real program, real files, real connections. Waits end
//! when what is waited for is there; no time is asserted.

mod difference;

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::Value;

use crate::{BROKEN, Folder, MASH};

/// When a test gives up.
const PATIENCE: Duration = Duration::from_secs(180);

struct Watch {
    child: Child,
    port: u16,
}

impl Drop for Watch {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// An answer's status, head and body.
struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Watch {
    fn start(folder: &Folder, arguments: &[&str]) -> Self {
        Self::start_in(folder, "", arguments, &[])
    }

    fn start_in(folder: &Folder, below: &str, arguments: &[&str], variables: &[(&str, &str)]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_porringer"))
            .arg("watch")
            .args(arguments)
            .args(["--port", "0"])
            .current_dir(folder.path(below))
            .env("SOURCE_DATE_EPOCH", "1793491200")
            .envs(variables.iter().copied())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let port = line.strip_prefix("preview at http://127.0.0.1:").unwrap_or_else(|| panic!("{line}"));
        let port = port.split('/').next().unwrap().parse().unwrap();
        Self { child, port }
    }

    fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        stream
    }

    fn send(&self, request: impl AsRef<[u8]>) -> Answer {
        let mut stream = self.connect();
        // Whoever is refused early need not have been read to the end.
        let _ = stream.write_all(request.as_ref());
        answer(stream)
    }

    fn get_with(&self, path: &str, lines: &str) -> Answer {
        self.send(format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n{lines}\r\n", self.port))
    }

    fn get(&self, path: &str) -> Answer {
        self.get_with(path, "")
    }

    fn json(&self, path: &str) -> Value {
        let answer = self.get(path);
        assert_eq!(answer.status, 200, "{path}: {}", answer.head);
        serde_json::from_slice(&answer.body).unwrap()
    }

    fn document(&self, file: &str) -> Value {
        self.json(&format!("/document?file={file}"))
    }

    /// Waits until the overview is as wanted and every card is set.
    fn until(&self, what: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        let begin = Instant::now();
        let mut path = "/overview".to_owned();
        let mut last = Value::Null;
        while begin.elapsed() < PATIENCE {
            let answer = self.get(&path);
            if answer.status == 204 {
                continue;
            }
            assert_eq!(answer.status, 200);
            last = serde_json::from_slice(&answer.body).unwrap();
            path = format!("/overview?since={}", last["number"].as_str().unwrap());
            let documents = last["documents"].as_array().unwrap();
            if documents.iter().all(|line| line["waiting"] == false) && wanted(&last) {
                return last;
            }
        }
        panic!("{what} does not come: {last:#}");
    }

    /// The same for a line of the overview.
    fn until_line(&self, what: &str, file: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        self.until(what, |overview| line(overview, file).is_some_and(&wanted))
    }
}

fn answer(mut stream: TcpStream) -> Answer {
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes).unwrap();
    let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").unwrap_or_else(|| panic!("{bytes:?}"));
    let head = String::from_utf8(bytes[..end].to_vec()).unwrap();
    let status = head.split(' ').nth(1).unwrap().parse().unwrap();
    Answer { status, head, body: bytes[end + 4..].to_vec() }
}

fn line<'a>(overview: &'a Value, file: &str) -> Option<&'a Value> {
    overview["documents"].as_array().unwrap().iter().find(|line| line["file"] == file)
}

/// How often each card was set because it had changed.
fn made(overview: &Value) -> BTreeMap<String, u64> {
    let lines = overview["documents"].as_array().unwrap();
    let cards = lines.iter().flat_map(|line| line["cards"].as_array().unwrap());
    cards.map(|card| (card[0].as_str().unwrap().to_owned(), card[1].as_u64().unwrap())).collect()
}

/// As most editors save: beside it, then renamed over it.
fn save(folder: &Folder, name: &str, text: impl AsRef<[u8]>) {
    folder.write(&format!("{name}.new"), text);
    fs::rename(folder.path(&format!("{name}.new")), folder.path(name)).unwrap();
}

/// A workspace in which every kind of input has its part.
const SETTINGS: &str = "languages = [\"en\"]\ntables = [\"lake.csv\"]\nlarder = [\"own.toml\"]\n\
    profile = \"national.toml\"\nprices = \"prices.csv\"\n";
const TABLE: &str = "food,name,ENERC_KCAL,FE,CA\n7,Lake weed,30,2.0,10\n8,Reed root,90,0.5,4\n";
const LARDER: &str = r#"
[[food]]
id = "lake-weed"
en = ["lake weed"]
plain = true
row = "lake:7"
class = "greens"
group = "vitamin-a"
density = 0.5
measures_source = "weighed for this test"

[[food]]
id = "reed-root"
en = ["reed root"]
plain = true
row = "lake:8"
class = "root"
group = "grains"
density = 0.6
measures_source = "weighed for this test"
"#;
const PROFILE: &str = "extends = \"default\"\n\n[profile]\nid = \"halamoya\"\ntitle = \"Halamoya guidance\"\n\
    edition = \"2026\"\nnote = \"An invented place.\"\n";
const WEED: &str = "dish Weed mash\nfor 9 to 11 months\nmakes 2 cups\ncooked 440 g\nportion 1/2 cup\n\
    take 1 1/2 cups lake weed\ntake 1/2 cup water\n\
    step boil lake weed with water for 10 min; mash lake weed for 2 min\n";
const ROOT: &str = "dish Root mash\nfor 9 to 11 months\nmakes 2 cups\ncooked 440 g\nportion 1/2 cup\n\
    take 2 cups reed root, peeled, cubed\ntake 1/2 cup water\n\
    step boil reed root with water for 20 min; mash reed root for 2 min\n";
const BOWL: &str = "dish Two in a bowl\nfor 9 to 11 months\nmakes 2 cups\ncooked 440 g\nportion 1/2 cup\n\
    take 1 cup dish root as root\ntake 1 cup lake weed\ntake 1/4 cup water\n\
    step boil lake weed with water for 10 min; mash lake weed with root for 2 min\n";
const DAY: &str = "menu A day\nfor 9 to 11 months, breastfed\nmeal 7:30 breakfast: 1/2 cup dish root\n\
    meal 12:00 lunch: 1/2 cup dish root\nsnack 15:00: 1/4 cup ripe mango, mashed\nmeal 18:00 supper: 1/2 cup dish root\n";

/// That workspace, with its cards `bowl`, `day`, `mash`, `root` and `weed`.
fn lake() -> Folder {
    let folder = Folder::with("porringer.toml", SETTINGS);
    folder.write("lake.csv", TABLE);
    folder.write("own.toml", LARDER);
    folder.write("national.toml", PROFILE);
    folder.write("prices.csv", "food,unit,price,currency,date,place\nreed root,kg,50,shilling,2026-09-05,market\n");
    for (name, text) in [("weed", WEED), ("root", ROOT), ("bowl", BOWL), ("mash", MASH)] {
        folder.write(&format!("recipes/{name}.dish"), text);
    }
    folder.write("recipes/day.menu", DAY);
    let ran = folder.run(&["check", "--format", "short"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    folder
}

#[test]
fn what_depends_on_a_file_is_set_anew_and_nothing_else() {
    let folder = lake();
    let watch = Watch::start(&folder, &[]);
    let mut before = made(&watch.until("the first cards", |_| true));
    assert_eq!(before, ["bowl.en", "day.en", "mash.en", "root.en", "weed.en"].map(|name| (name.to_owned(), 1)).into());
    let mut change = |what: &str, file: &str, text: &str, expected: &[&str]| {
        // What changes no card is written just before, and must not show.
        folder.write("prices.csv", format!("food,unit,price,currency,date,place\n# {what}\n"));
        save(&folder, "recipes/mash.dish", format!("{MASH}# {what}\n"));
        folder.write("notes.txt", what);
        save(&folder, file, text);
        let first = format!("{}.en", expected[0]);
        let after = made(&watch.until(what, |overview| made(overview).get(&first) > before.get(&first)));
        let again: Vec<&str> = after
            .iter()
            .filter(|(name, count)| before.get(*name) != Some(count))
            .map(|(name, _)| name.strip_suffix(".en").unwrap())
            .collect();
        assert_eq!(again, expected, "{what}");
        before = after;
    };
    change("a dish", "recipes/weed.dish", &WEED.replace("Weed mash", "Mash of weed"), &["weed"]);
    // The dish that takes it, and the menu that serves it, change with it.
    change("a dish in others", "recipes/root.dish", &ROOT.replace("440 g", "460 g"), &["bowl", "day", "root"]);
    change("a table", "lake.csv", &TABLE.replace("30,2.0", "60,4.0"), &["bowl", "weed"]);
    let table = TABLE.replace("30,2.0", "60,4.0");
    change("another row", "lake.csv", &table.replace("90,0.5", "95,0.9"), &["bowl", "day", "root"]);
    change("a larder row", "own.toml", &LARDER.replace("0.5\n", "0.55\n"), &["bowl", "weed"]);
    let menu = DAY.replace("A day", "Another day");
    change("a menu", "recipes/day.menu", &menu, &["day"]);
    let all = ["bowl", "day", "mash", "root", "weed"];
    change("the profile", "national.toml", &PROFILE.replace("2026", "2027"), &all);
    let settings = format!("{SETTINGS}footer = \"Of the lake\"\n");
    change("the settings", "porringer.toml", &settings, &all);
    // A look of the workspace's own: for dishes, as menus have theirs.
    for entry in fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/templates/card")).unwrap() {
        let path = entry.unwrap().path();
        folder.write(&format!("look/{}", path.file_name().unwrap().to_str().unwrap()), fs::read(&path).unwrap());
    }
    let own = format!("{settings}template = \"look\"\n");
    change("a template", "porringer.toml", &own, &["bowl", "mash", "root", "weed"]);
    let text = String::from_utf8(folder.read("look/card.typ")).unwrap();
    change("a file of it", "look/card.typ", &format!("{text}\n// again\n"), &["bowl", "mash", "root", "weed"]);
    // A translation: a card more, and the others stay.
    let sw = own.replace("[\"en\"]", "[\"en\", \"sw\"]");
    save(&folder, "porringer.toml", &sw);
    let after = made(&watch.until("Swahili", |overview| made(overview).len() == 10));
    for (name, count) in &after {
        assert_eq!(*count, before.get(name).copied().unwrap_or(1), "{name}");
    }
    let translated = MASH.replace("Boga na karanga", "Boga na karanga, vya kuponda");
    save(&folder, "recipes/mash.dish", translated);
    let last = made(&watch.until("a translation", |overview| made(overview).get("mash.sw") == Some(&2)));
    let other: Vec<&String> =
        last.iter().filter(|(name, count)| after[*name] != **count).map(|(name, _)| name).collect();
    assert_eq!(other, ["mash.sw"]);
    // Nothing was written.
    assert!(!folder.path("out").exists());
}

#[test]
fn the_last_good_card_stays_while_a_fault_is_shown() {
    let folder = Folder::with("mash.dish", MASH);
    let watch = Watch::start(&folder, &[]);
    watch.until("the card", |overview| made(overview).get("mash.en") == Some(&1));
    let view = watch.document("mash.dish");
    let key = view["cards"][0]["shown"].as_str().unwrap().to_owned();
    assert_eq!(
        (&view["broken"], &view["cards"][0]["current"], &view["cards"][0]["sheets"]),
        (&false.into(), &true.into(), &2.into())
    );
    // The same bytes as `build` writes.
    assert_eq!(folder.run(&["build", "--out", "else"]).code, 0);
    let pdf = watch.get("/cards/mash.en.pdf");
    assert!(pdf.head.contains("Content-Type: application/pdf"), "{}", pdf.head);
    assert!(pdf.body == folder.read("else/mash.en.pdf"), "another PDF than the build's");
    let page = format!("/cards/{key}/mash.en.1.svg");
    let svg = watch.get(&page);
    assert!(svg.head.contains("image/svg+xml") && svg.body.starts_with(b"<svg"), "{}", svg.head);
    for none in [
        format!("/cards/{key}/mash.en.3.svg"),
        format!("/cards/{key}/mash.en.0.svg"),
        "/cards/x/mash.en.1.svg".to_owned(),
    ] {
        assert_eq!(watch.get(&none).status, 404, "{none}");
    }

    // Half-written, in place: a fault while it lasts.
    folder.write("mash.dish", &MASH.as_bytes()[..MASH.find("step").unwrap() + 20]);
    watch.until_line("a half", "mash.dish", |line| line["errors"] != 0);
    let view = watch.document("mash.dish");
    assert_eq!((&view["broken"], &view["cards"][0]["current"]), (&true.into(), &false.into()));
    assert_eq!(view["cards"][0]["shown"], key.as_str());
    assert!(!view["messages"].as_array().unwrap().is_empty());
    assert_eq!(watch.get(&page).body, svg.body);
    assert_eq!(watch.get("/cards/mash.en.pdf").status, 200);
    // Whole again, and the same: nothing has to be set.
    folder.write("mash.dish", MASH);
    let overview = watch.until_line("the whole", "mash.dish", |line| line["errors"] == 0);
    assert_eq!(made(&overview)["mash.en"], 1);

    // Not even text for a while.
    folder.write("mash.dish", b"dish \xff\xfe\x00");
    watch.until_line("no text", "mash.dish", |line| line["errors"] != 0);
    // A fault is at its place, with its line in three pieces.
    folder.write("mash.dish", BROKEN);
    watch.until_line("the fault", "mash.dish", |line| line["errors"] == 1 && line["title"] == "Pot of nothing known");
    let message = watch.document("mash.dish")["messages"][0].clone();
    assert_eq!(
        (&message["code"], &message["line"], &message["column"]),
        (&"food/unknown".into(), &5.into(), &16.into())
    );
    assert_eq!(message["excerpt"], serde_json::json!({ "before": "take     1 cup ", "marked": "zzyzx", "after": "" }));
    assert!(watch.get("/explain?code=food/unknown").body.starts_with(b"# food/unknown"));
    assert_eq!(watch.get("/explain?code=../food").status, 404);

    // Too long for its paper: only the typesetter can tell.
    let prose = "Stir slowly and look into the pot. ".repeat(200);
    save(&folder, "mash.dish", MASH.replace("for 3 min\n", &format!("for 3 min: {prose}\n")));
    watch.until_line("the long card", "mash.dish", |line| {
        line["title"] == "Pumpkin and groundnut mash" && line["errors"] == 1
    });
    let card = watch.document("mash.dish")["cards"][0].clone();
    assert_eq!((&card["state"], &card["message"]["code"]), (&"too-long".into(), &"text/text-too-long-for-card".into()));
    assert_eq!(card["shown"], key.as_str());
}

#[test]
fn files_come_and_go() {
    let folder = Folder::with("recipes/mash.dish", MASH);
    folder.write("porringer.toml", "");
    let watch = Watch::start(&folder, &[]);
    watch.until("the first", |overview| made(overview).len() == 1);
    // A new file, a new folder with one in it.
    folder.write("recipes/weeks/two.dish", MASH.replace("Pumpkin", "Second pumpkin"));
    watch.until("a second", |overview| made(overview).contains_key("two.en"));
    save(&folder, "recipes/weeks/two.dish", MASH.replace("Pumpkin", "Third pumpkin"));
    watch.until_line("a change in it", "recipes/weeks/two.dish", |line| {
        line["title"] == "Third pumpkin and groundnut mash"
    });
    // Renamed, and removed.
    fs::rename(folder.path("recipes/weeks/two.dish"), folder.path("recipes/three.dish")).unwrap();
    watch.until("another name", |overview| {
        made(overview).contains_key("three.en") && !made(overview).contains_key("two.en")
    });
    fs::remove_file(folder.path("recipes/three.dish")).unwrap();
    watch.until("one less", |overview| made(overview).len() == 1);
    // The whole folder goes, is told of, and comes back.
    for again in ["Fourth", "Fifth"] {
        fs::rename(folder.path("recipes"), folder.path("recipes.away")).unwrap();
        watch.until("no recipes", |overview| {
            overview["trouble"].is_string() || line(overview, "recipes.away/mash.dish").is_some()
        });
        fs::remove_dir_all(folder.path("recipes.away")).unwrap();
        folder.write("recipes/mash.dish", MASH.replace("Pumpkin", again));
        let title = format!("{again} and groundnut mash");
        watch.until_line("the folder again", "recipes/mash.dish", |line| line["title"] == title.as_str());
        save(&folder, "recipes/mash.dish", MASH);
        watch.until_line("a change in it", "recipes/mash.dish", |line| line["title"] == "Pumpkin and groundnut mash");
    }
}

/// The folder that the program was started in.
#[cfg(unix)]
#[test]
fn the_working_folder_goes_and_comes_back() {
    let folder = Folder::with("here/mash.dish", MASH);
    folder.write("here/porringer.toml", "");
    let watch = Watch::start_in(&folder, "here", &[], &[]);
    watch.until("the first", |overview| made(overview).len() == 1);
    fs::remove_dir_all(folder.path("here")).unwrap();
    watch.until("trouble", |overview| overview["trouble"].is_string());
    folder.write("here/porringer.toml", "");
    folder.write("here/mash.dish", MASH.replace("Pumpkin", "Later"));
    let overview =
        watch.until_line("the folder again", "mash.dish", |line| line["title"] == "Later and groundnut mash");
    assert_eq!(overview["trouble"], Value::Null);
}

#[test]
fn settings_with_a_fault_keep_what_is_known() {
    let folder = lake();
    let watch = Watch::start(&folder, &[]);
    let before = made(&watch.until("the first cards", |_| true));
    save(&folder, "porringer.toml", "papier = \"A4\"\n");
    let overview = watch.until("the fault", |overview| overview["trouble"] == "no card is made with these settings");
    assert_eq!(overview["general"][0]["code"], "workspace/unknown-key");
    assert_eq!(made(&overview), before);
    save(&folder, "porringer.toml", format!("{SETTINGS}fonts = [\"none.ttf\"]\n"));
    watch.until("no font", |overview| overview["trouble"] == "the font `none.ttf` is not in the workspace");
    save(&folder, "porringer.toml", SETTINGS);
    assert_eq!(made(&watch.until("no fault", |overview| overview["trouble"].is_null())), before);
    // Two of one name: no new card until one has another.
    folder.write("recipes/also/mash.dish", MASH);
    watch.until("two of one name", |overview| {
        overview["trouble"].as_str().is_some_and(|said| said.contains("both called `mash`"))
    });
    fs::remove_file(folder.path("recipes/also/mash.dish")).unwrap();
    watch.until("one of it", |overview| overview["trouble"].is_null());
}

#[test]
fn only_a_browser_of_this_machine_is_answered() {
    let folder = Folder::with("mash.dish", MASH);
    folder.write("porringer.toml", "");
    let watch = Watch::start(&folder, &[]);
    watch.until("the card", |overview| made(overview).len() == 1);
    let page = watch.get("/");
    assert_eq!(page.status, 200);
    for line in [
        "Content-Security-Policy: default-src 'none'; script-src 'self'",
        "frame-ancestors 'none'",
        "X-Content-Type-Options: nosniff",
        "Cross-Origin-Resource-Policy: same-origin",
        "Cache-Control: no-store",
    ] {
        assert!(page.head.contains(line), "{line}: {}", page.head);
    }
    assert!(!page.head.to_lowercase().contains("access-control-allow"), "{}", page.head);
    for (path, kind) in
        [("/preview.js", "text/javascript"), ("/preview.css", "text/css"), ("/preview.svg", "image/svg+xml")]
    {
        assert!(watch.get(path).head.contains(&format!("Content-Type: {kind}")), "{path}");
    }
    // Another name for this machine, another origin, another site.
    let port = watch.port;
    for host in
        ["evil.example", &format!("evil.example:{port}"), &format!("localhost.evil.example:{port}"), "127.0.0.1:1"]
    {
        assert_eq!(watch.send(format!("GET / HTTP/1.1\r\nHost: {host}\r\n\r\n")).status, 421, "{host}");
    }
    assert_eq!(watch.get_with("/overview", "Origin: http://evil.example\r\n").status, 403);
    assert_eq!(watch.get_with("/overview", "Sec-Fetch-Site: cross-site\r\n").status, 403);
    assert_eq!(
        watch
            .get_with("/overview", &format!("Origin: http://127.0.0.1:{port}\r\nSec-Fetch-Site: same-origin\r\n"))
            .status,
        200
    );
    // No path leads to a file.
    for path in [
        "/mash.dish",
        "/porringer.toml",
        "/../porringer.toml",
        "/%2e%2e/porringer.toml",
        "/cards/../mash.dish",
        "/cards/..%2Fmash.dish",
        "/cards/%2e%2e%2f%2e%2e%2fetc%2fpasswd.pdf",
        "/cards//etc/passwd.1.svg",
        "/document?file=porringer.toml",
        "/document?file=../../etc/passwd",
        "/document?file=%00",
        "//etc/passwd",
        "/\\..\\porringer.toml",
    ] {
        let answer = watch.get(path);
        assert_eq!(answer.status, 404, "{path}");
        assert!(answer.body.len() < 100);
    }
    // Only read.
    for method in ["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT"] {
        let request = format!("{method} / HTTP/1.1\r\nHost: localhost:{port}\r\n\r\n");
        assert_eq!(watch.send(request).status, 405, "{method}");
    }
    let head = watch.send(format!("HEAD / HTTP/1.1\r\nHost: localhost:{port}\r\n\r\n"));
    assert_eq!((head.status, head.body.len()), (200, 0));
    // Not on any other address of this machine.
    assert!(TcpListener::bind(("127.0.0.2", port)).is_ok(), "it listens on more than 127.0.0.1");
}

#[test]
fn the_slow_the_huge_and_the_many_hang_nobody_else() {
    let folder = Folder::with("mash.dish", MASH);
    folder.write("porringer.toml", "");
    let watch = Watch::start(&folder, &[]);
    watch.until("the card", |overview| made(overview).len() == 1);
    // Some say nothing, some stop in the middle, some wait for news.
    let mut slow: Vec<TcpStream> = (0..8).map(|_| watch.connect()).collect();
    for _ in 0..8 {
        let mut stream = watch.connect();
        stream.write_all(b"GET / HTTP/1.1\r\nHost: 127").unwrap();
        slow.push(stream);
    }
    assert_eq!(watch.get("/").status, 200);
    // Without end: refused long before it is read.
    let mut endless = watch.connect();
    let _ = endless.write_all(b"GET / HTTP/1.1\r\n");
    let chunk = format!("a: {}\r\n", "b".repeat(1000)).repeat(64);
    for _ in 0..100 {
        if endless.write_all(chunk.as_bytes()).is_err() {
            break;
        }
    }
    drop(endless);
    assert_eq!(watch.send(format!("GET /{} HTTP/1.1\r\n", "a".repeat(20_000))).status, 431);
    let body = format!("GET / HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Length: 99999999999\r\n\r\n", watch.port);
    assert_eq!(watch.send(body).status, 413);
    assert_eq!(watch.send("\u{0}\u{1}\r\n\r\n").status, 400);
    assert_eq!(watch.get("/").status, 200);
    // More than are served at a time: the next is told so at once. None of
    // these has said anything yet.
    let many: Vec<TcpStream> = (0..80).map(|_| watch.connect()).collect();
    let refused = many.into_iter().map(|stream| {
        let mut bytes = Vec::new();
        let _ = { stream }.read_to_end(&mut bytes);
        bytes
    });
    let refused = refused.filter(|bytes| bytes.starts_with(b"HTTP/1.1 503")).count();
    assert!(refused > 0, "eighty connections at once were let in");
    // The slow are let go, each with a word on why.
    for stream in slow {
        assert_eq!(answer(stream).status, 408);
    }
    assert_eq!(watch.get("/").status, 200);
    // And the preview goes on.
    save(&folder, "mash.dish", MASH.replace("Pumpkin", "Lasting"));
    watch.until_line("a change", "mash.dish", |line| line["title"] == "Lasting and groundnut mash");
}

#[cfg(unix)]
#[test]
fn it_opens_the_page_and_ends_when_told() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::with("mash.dish", MASH);
    folder.write("browser.sh", "#!/bin/sh\nprintf %s \"$1\" > opened.part && mv opened.part opened\n");
    fs::set_permissions(folder.path("browser.sh"), fs::Permissions::from_mode(0o755)).unwrap();
    let browser = folder.path("browser.sh");
    let mut watch = Watch::start_in(&folder, "", &["mash.dish", "--open"], &[("BROWSER", browser.to_str().unwrap())]);
    let begin = Instant::now();
    while !folder.path("opened").exists() && begin.elapsed() < PATIENCE {
        std::thread::sleep(Duration::from_millis(20));
    }
    assert_eq!(folder.read("opened"), format!("http://127.0.0.1:{}/", watch.port).into_bytes());
    // A port that is taken is said, where it was asked for.
    let port = watch.port.to_string();
    let ran = folder.run(&["watch", "mash.dish", "--port", &port]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with(&format!("porringer: port {port} cannot be had: ")), "{}", ran.err);
    // Ctrl-C.
    let id = watch.child.id().to_string();
    assert!(Command::new("kill").args(["-INT", &id]).status().unwrap().success());
    watch.child.wait().unwrap();
    assert!(TcpStream::connect(("127.0.0.1", watch.port)).is_err(), "somebody still listens");
    assert_eq!(folder.names(""), ["browser.sh", "mash.dish", "opened"]);
    let ran = folder.run(&["watch", "none.dish"]);
    assert_eq!((ran.code, ran.err.as_str()), (2, "porringer: there is no file or folder `none.dish`\n"));
}
