//! The least of HTTP that a preview needs: one request a connection, GET and
//! HEAD, nothing sent by the other side but its head. Whoever is slow, sends
//! much or opens many connections is let go; the others are served meanwhile.
//!
//! The page is for the browser on this machine only. The listener is bound to
//! the loopback address. A page from elsewhere cannot read it: its name for this
//! machine is not ours (`Host`, against a name that is pointed here later), its
//! origin is not ours (`Origin`, `Sec-Fetch-Site`), and every answer forbids
//! being framed, embedded or read across origins.

use std::io::{Read, Write};
use std::net::{Ipv4Addr, Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// Longest head of a request, in bytes, and most lines in it.
const LONGEST_HEAD: usize = 16 << 10;
const MOST_LINES: usize = 64;
/// A browser on this machine sends its head at once.
const HEAD_TIME: Duration = Duration::from_secs(5);
const WRITE_TIME: Duration = Duration::from_secs(10);
/// Connections served at a time. A browser opens six.
const MOST_AT_ONCE: usize = 48;

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// Path without the query, as it was sent.
    pub path: String,
    query: String,
}

impl Request {
    pub fn new(target: &str) -> Self {
        let (path, query) = target.split_once('?').unwrap_or((target, ""));
        Self { path: path.to_owned(), query: query.to_owned() }
    }

    /// A value of the query.
    pub fn value(&self, name: &str) -> Option<String> {
        self.query
            .split('&')
            .filter_map(|pair| pair.split_once('='))
            .find(|(key, _)| *key == name)
            .map(|(_, value)| decoded(value))
    }
}

/// Text in which signs are written in percent.
pub fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let [first, after @ ..] = rest {
        let digit = |byte: &u8| char::from(*byte).to_digit(16).and_then(|digit| u8::try_from(digit).ok());
        match (first, after) {
            (b'%', [high, low, then @ ..]) if digit(high).is_some() && digit(low).is_some() => {
                bytes.push(digit(high).unwrap_or_default() << 4 | digit(low).unwrap_or_default());
                rest = then;
            }
            _ => {
                bytes.push(*first);
                rest = after;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// What is sent back.
#[derive(Debug, Clone)]
pub struct Answer {
    pub status: u16,
    pub kind: &'static str,
    pub body: Arc<[u8]>,
    /// What this answer may load and run, where it is a page or a picture.
    pub policy: &'static str,
    /// Name under which a browser saves it.
    pub name: Option<String>,
}

/// An answer that loads nothing.
pub const NOTHING: &str = "default-src 'none'; frame-ancestors 'none'";

impl Answer {
    pub fn new(kind: &'static str, body: impl Into<Arc<[u8]>>) -> Self {
        Self { status: 200, kind, body: body.into(), policy: NOTHING, name: None }
    }

    /// A refusal, with a word on why.
    pub fn refused(status: u16, why: &str) -> Self {
        Self { status, ..Self::new("text/plain; charset=utf-8", format!("{why}\n").into_bytes()) }
    }

    pub fn not_there() -> Self {
        Self::refused(404, "there is nothing under this name")
    }

    /// Nothing new.
    pub fn nothing() -> Self {
        Self { status: 204, ..Self::new("text/plain; charset=utf-8", Vec::new()) }
    }

    fn head(&self) -> String {
        let word = match self.status {
            200 => "OK",
            204 => "No Content",
            400 => "Bad Request",
            403 => "Forbidden",
            404 => "Not Found",
            405 => "Method Not Allowed",
            408 => "Request Timeout",
            413 => "Content Too Large",
            421 => "Misdirected Request",
            431 => "Request Header Fields Too Large",
            503 => "Service Unavailable",
            _ => "Error",
        };
        let mut head = format!(
            "HTTP/1.1 {} {word}\r\nContent-Type: {}\r\nContent-Length: {}\r\nConnection: close\r\nCache-Control: no-store\r\n\
            Content-Security-Policy: {}\r\nX-Content-Type-Options: nosniff\r\nX-Frame-Options: DENY\r\n\
            Referrer-Policy: no-referrer\r\nCross-Origin-Resource-Policy: same-origin\r\n\
            Cross-Origin-Opener-Policy: same-origin\r\n",
            self.status,
            self.kind,
            self.body.len(),
            self.policy,
        );
        if self.status == 405 {
            head.push_str("Allow: GET, HEAD\r\n");
        }
        if let Some(name) = &self.name {
            // A name is made of letters, digits, hyphens and points; others are
            // left out here.
            let plain: String = name.chars().filter(|c| c.is_ascii_alphanumeric() || "-_.".contains(*c)).collect();
            head.push_str(&format!("Content-Disposition: inline; filename=\"{plain}\"\r\n"));
        }
        head.push_str("\r\n");
        head
    }
}

/// A listener on the loopback address.
///
/// # Errors
/// The port is taken.
pub fn listen(port: u16) -> std::io::Result<TcpListener> {
    TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)))
}

/// Serves until the program ends.
pub fn serve(listener: &TcpListener, answer: &(impl Fn(&Request) -> Answer + Clone + Send + 'static)) {
    let port = listener.local_addr().map_or(0, |address| address.port());
    let at_once = Arc::new(AtomicUsize::new(0));
    for stream in listener.incoming() {
        let Ok(stream) = stream else {
            // Out of files, say: not at once again.
            std::thread::sleep(Duration::from_millis(50));
            continue;
        };
        let place = Place::take(&at_once);
        let answer = answer.clone();
        // Without a thread the connection is closed, which says enough.
        let _ = std::thread::Builder::new().name("preview".to_owned()).spawn(move || {
            let _ = stream.set_write_timeout(Some(WRITE_TIME));
            match place {
                Some(_place) => one(&stream, port, &answer),
                None => send(&stream, &Answer::refused(503, "too many connections at once"), true),
            }
        });
    }
}

/// One of the connections that are served at a time.
struct Place(Arc<AtomicUsize>);

impl Place {
    fn take(at_once: &Arc<AtomicUsize>) -> Option<Self> {
        let place = Self(Arc::clone(at_once));
        (at_once.fetch_add(1, Ordering::SeqCst) < MOST_AT_ONCE).then_some(place)
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
    }
}

fn one(stream: &TcpStream, port: u16, answer: &impl Fn(&Request) -> Answer) {
    match read(stream).and_then(|head| parse(&head, port)) {
        Ok((request, body)) => send(stream, &answer(&request), body),
        Err(Some(refusal)) => send(stream, &refusal, true),
        Err(None) => {}
    }
}

/// Reads to the end of the head. Nobody is waited for longer than
/// [`HEAD_TIME`] altogether.
fn read(mut stream: &TcpStream) -> Result<Vec<u8>, Option<Answer>> {
    let begin = Instant::now();
    let mut head = Vec::new();
    let mut chunk = [0; 2048];
    loop {
        let left = HEAD_TIME.saturating_sub(begin.elapsed());
        if left.is_zero() || stream.set_read_timeout(Some(left)).is_err() {
            return Err(Some(Answer::refused(408, "the request did not come to its end in time")));
        }
        match stream.read(&mut chunk) {
            Ok(0) => return Err(None),
            Ok(count) => head.extend_from_slice(chunk.get(..count).unwrap_or_default()),
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
            Err(error) if matches!(error.kind(), std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut) => {
                return Err(Some(Answer::refused(408, "the request did not come to its end in time")));
            }
            Err(_) => return Err(None),
        }
        // Only what is new can hold the end.
        let from = head.len().saturating_sub(chunk.len() + 3);
        if head.get(from..).is_some_and(|new| new.windows(4).any(|four| four == b"\r\n\r\n")) {
            return Ok(head);
        }
        if head.len() > LONGEST_HEAD {
            return Err(Some(Answer::refused(431, "the request is too long")));
        }
    }
}

/// The request and whether it wants a body, or why it is refused.
fn parse(head: &[u8], port: u16) -> Result<(Request, bool), Option<Answer>> {
    let refuse = |status, why| Err(Some(Answer::refused(status, why)));
    let mut lines = [httparse::EMPTY_HEADER; MOST_LINES];
    let mut parsed = httparse::Request::new(&mut lines);
    match parsed.parse(head) {
        Ok(httparse::Status::Complete(_)) => {}
        Err(httparse::Error::TooManyHeaders) => return refuse(431, "the request has too many lines"),
        _ => return refuse(400, "this is no request"),
    }
    let all = |name: &str| -> Vec<String> {
        let same = parsed.headers.iter().filter(|line| line.name.eq_ignore_ascii_case(name));
        same.map(|line| String::from_utf8_lossy(line.value).trim().to_ascii_lowercase()).collect()
    };
    // By the names that this machine has for itself, and no other.
    let names = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    let hosts = all("host");
    let [host] = hosts.as_slice() else { return refuse(400, "the request names no host, or two") };
    if !names.contains(host) {
        return refuse(421, "this preview is not served under that name");
    }
    if all("origin").iter().any(|origin| origin.strip_prefix("http://").is_none_or(|own| own != host)) {
        return refuse(403, "another page may not read this preview");
    }
    // `none` is an address typed or opened from outside the browser.
    if all("sec-fetch-site").iter().any(|site| !matches!(site.as_str(), "same-origin" | "none")) {
        return refuse(403, "another page may not read this preview");
    }
    let method = parsed.method.unwrap_or_default();
    if !matches!(method, "GET" | "HEAD") {
        return refuse(405, "a preview is only read");
    }
    if !all("transfer-encoding").is_empty() || all("content-length").iter().any(|length| length != "0") {
        return refuse(413, "a preview takes nothing in");
    }
    let target = parsed.path.unwrap_or_default();
    if !target.starts_with('/') {
        return refuse(400, "this is no request");
    }
    Ok((Request::new(target), method == "GET"))
}

fn send(mut stream: &TcpStream, answer: &Answer, body: bool) {
    // One that went away is no fault.
    let mut bytes = answer.head().into_bytes();
    if body {
        bytes.extend_from_slice(&answer.body);
    }
    if stream.write_all(&bytes).is_err() {
        return;
    }
    let _ = stream.shutdown(Shutdown::Write);
    // What was sent and not read would take the answer back on closing.
    let _ = stream.set_read_timeout(Some(Duration::from_millis(200)));
    let mut rest = [0; 2048];
    for _ in 0..32 {
        if !matches!(stream.read(&mut rest), Ok(count) if count > 0) {
            break;
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn status(head: &str) -> u16 {
        match parse(head.replace('\n', "\r\n").as_bytes(), 8000) {
            Ok(_) => 200,
            Err(answer) => answer.unwrap().status,
        }
    }

    #[test]
    fn only_this_machine_by_its_own_name() {
        assert_eq!(status("GET / HTTP/1.1\nHost: 127.0.0.1:8000\n\n"), 200);
        assert_eq!(status("GET / HTTP/1.1\nhost: LocalHost:8000\n\n"), 200);
        for host in
            ["127.0.0.1", "127.0.0.1:8001", "evil.example:8000", "localhost.evil.example:8000", "", "[::1]:8000"]
        {
            assert_eq!(status(&format!("GET / HTTP/1.1\nHost: {host}\n\n")), 421, "{host}");
        }
        assert_eq!(status("GET / HTTP/1.1\n\n"), 400);
        assert_eq!(status("GET / HTTP/1.1\nHost: localhost:8000\nHost: evil.example\n\n"), 400);
    }

    #[test]
    fn no_other_page_reads_it() {
        let with = |line: &str| status(&format!("GET /state HTTP/1.1\nHost: localhost:8000\n{line}\n\n"));
        assert_eq!(with("Origin: http://localhost:8000"), 200);
        assert_eq!(with("Sec-Fetch-Site: same-origin"), 200);
        assert_eq!(with("Sec-Fetch-Site: none"), 200);
        for line in [
            "Origin: http://evil.example",
            "Origin: null",
            "Origin: https://localhost:8000",
            "Origin: http://127.0.0.1:8000",
            "Origin: http://localhost:8001",
            "Sec-Fetch-Site: cross-site",
            "Sec-Fetch-Site: same-site",
        ] {
            assert_eq!(with(line), 403, "{line}");
        }
    }

    #[test]
    fn it_is_only_read() {
        let host = "Host: localhost:8000\n";
        assert_eq!(status(&format!("POST / HTTP/1.1\n{host}\n")), 405);
        assert_eq!(status(&format!("GET / HTTP/1.1\n{host}Content-Length: 5\n\n")), 413);
        assert_eq!(status(&format!("GET / HTTP/1.1\n{host}Transfer-Encoding: chunked\n\n")), 413);
        assert_eq!(status(&format!("GET http://localhost:8000/ HTTP/1.1\n{host}\n")), 400);
        assert_eq!(status("\u{0} nonsense\n\n"), 400);
        let many = "a: b\n".repeat(MOST_LINES + 1);
        assert_eq!(status(&format!("GET / HTTP/1.1\n{host}{many}\n")), 431);
    }

    #[test]
    fn a_query_is_decoded() {
        let request = Request::new("/document?file=recipes%2Fa%20b%C3%A9.dish&x=%zz%4");
        assert_eq!(request.path, "/document");
        assert_eq!(request.value("file").unwrap(), "recipes/a bé.dish");
        assert_eq!(request.value("x").unwrap(), "%zz%4");
        assert_eq!(request.value("y"), None);
    }

    proptest::proptest! {
        #[test]
        fn no_bytes_are_too_strange(head: Vec<u8>, target: String) {
            let _ = parse(&head, 8000);
            let _ = decoded(&target);
            let _ = Request::new(&target).value("file");
        }
    }
}
