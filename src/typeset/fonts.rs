//! The fonts of the cards. Andika is made for people who learn to read (SIL
//! Open Font License, `templates/fonts/OFL.txt`).

use std::sync::OnceLock;

use typst::foundations::Bytes;
use typst::text::Font;

const FILES: [&[u8]; 4] = [
    include_bytes!("../../templates/fonts/Andika-Regular.ttf"),
    include_bytes!("../../templates/fonts/Andika-Bold.ttf"),
    include_bytes!("../../templates/fonts/Andika-Italic.ttf"),
    include_bytes!("../../templates/fonts/Andika-BoldItalic.ttf"),
];

/// The bundled fonts, read once.
pub fn bundled() -> Vec<Font> {
    static FONTS: OnceLock<Vec<Font>> = OnceLock::new();
    FONTS.get_or_init(|| FILES.iter().flat_map(|bytes| Font::iter(Bytes::new(*bytes))).collect()).clone()
}

/// Whether the bundled regular font, or one of the further ones, draws a
/// character.
pub fn covers(character: char, further: &[Font]) -> bool {
    if character.is_ascii() {
        return !character.is_control();
    }
    bundled().first().into_iter().chain(further).any(|font| font.info().coverage.contains(u32::from(character)))
}
