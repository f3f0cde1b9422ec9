//! Tags and care cards: what they say, where it stands in millimetres, and the PDF.

pub mod fonts;
