//! An author's picture, read once and checked before any page is made: its
//! kind, its size in bytes, and the size it really has, not the one it says.

use std::fs;
use std::io::Cursor;
use std::path::Path;

use typst::foundations::Bytes;

use crate::typeset::svg;

/// Most bytes of a picture.
pub const MOST_BYTES: u64 = 4 << 20;
/// Most pixels along one edge.
pub const MOST_EDGE: u32 = 6_000;
/// Most bytes of a picture that is opened.
const MOST_OPENED: u64 = 256 << 20;

/// A picture as a template sees it.
#[derive(Debug, Clone)]
pub struct Picture {
    /// Its place in the folder that templates see.
    pub path: String,
    pub bytes: Bytes,
}

/// Reads a picture of the workspace. `name` is its path as the author wrote it.
///
/// # Errors
/// In words, with the author's fix.
pub fn read(path: &Path, name: &str) -> Result<Picture, (String, &'static str)> {
    let unreadable = |error: std::io::Error| (format!("the picture cannot be read: {error}"), "check the file");
    let meta = fs::metadata(path).map_err(unreadable)?;
    if !meta.is_file() {
        return Err(("the picture is no file".to_owned(), "name a PNG, JPEG or SVG file"));
    }
    if meta.len() > MOST_BYTES {
        return Err((
            format!("the picture has {} MB; the most is {} MB", meta.len() >> 20, MOST_BYTES >> 20),
            "save it smaller: 1200 pixels across are enough for a card",
        ));
    }
    let bytes = fs::read(path).map_err(unreadable)?;
    let ending = Path::new(name).extension().and_then(|ending| ending.to_str()).unwrap_or_default();
    let ending = ending.to_ascii_lowercase();
    match ending.as_str() {
        "png" => pixels(&bytes, image::ImageFormat::Png)?,
        "jpg" | "jpeg" => pixels(&bytes, image::ImageFormat::Jpeg)?,
        "svg" => lines(&bytes)?,
        _ => return Err(("the picture is no PNG, JPEG or SVG".to_owned(), "save it as .png, .jpg or .svg")),
    }
    // Of the author's path only the ending is kept, so that no path, however
    // strange, says where a template finds it.
    Ok(Picture { path: format!("picture.{ending}"), bytes: Bytes::new(bytes) })
}

fn pixels(bytes: &[u8], format: image::ImageFormat) -> Result<(), (String, &'static str)> {
    const SAVE: &str = "open it in a picture editor and save it again";
    let mut limits = image::Limits::default();
    limits.max_image_width = Some(MOST_EDGE);
    limits.max_image_height = Some(MOST_EDGE);
    limits.max_alloc = Some(MOST_OPENED);
    let mut reader = image::ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    match reader.decode() {
        Ok(_) => Ok(()),
        Err(image::ImageError::Limits(_)) => {
            Err((format!("the picture is over {MOST_EDGE} pixels wide or high"), "save it smaller"))
        }
        Err(_) if image::guess_format(bytes).is_ok_and(|found| found != format) => {
            Err(("the picture's ending does not say what it is".to_owned(), "name it by what it is, or save it again"))
        }
        Err(_) => Err(("the picture is damaged".to_owned(), SAVE)),
    }
}

fn lines(bytes: &[u8]) -> Result<(), (String, &'static str)> {
    let text =
        std::str::from_utf8(bytes).map_err(|_| ("the picture is not UTF-8 text".to_owned(), "save it as plain SVG"))?;
    svg::check(text)
}
