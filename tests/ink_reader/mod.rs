//! Reads where a PDF puts ink: lines, filled shapes, texts and pictures with every transform around them, in millimetres
//! from the page's top left corner. Shares no code with the writer.

use hayro_syntax::Pdf;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Number, Object};

/// A page as it was read.
#[derive(Debug, Default, Clone)]
pub(crate) struct Ink {
    /// Media, crop, bleed and trim box, points.
    pub(crate) boxes: [[f64; 4]; 4],
    /// Lines that are drawn: their points, each once.
    pub(crate) lines: Vec<Vec<[f64; 2]>>,
    /// Shapes that are filled: their points.
    pub(crate) fills: Vec<Vec<[f64; 2]>>,
    /// Filled rectangles of the symbols: left, top, width, height.
    pub(crate) modules: Vec<[f64; 4]>,
    /// The left ends of texts' baselines.
    pub(crate) texts: Vec<[f64; 2]>,
}

type Matrix = [f64; 6];

/// `first`, then `then` (ISO 32000-1, 8.3.4: the matrix of `cm` comes before the one that was).
fn after(first: Matrix, then: Matrix) -> Matrix {
    let by = |x: f64, y: f64| [x * then[0] + y * then[2], x * then[1] + y * then[3]];
    let (right, up, moved) = (by(first[0], first[1]), by(first[2], first[3]), by(first[4], first[5]));
    [right[0], right[1], up[0], up[1], moved[0] + then[4], moved[1] + then[5]]
}

fn at(matrix: Matrix, x: f64, y: f64) -> [f64; 2] {
    [x * matrix[0] + y * matrix[2] + matrix[4], x * matrix[1] + y * matrix[3] + matrix[5]]
}

/// Reads a PDF.
pub(crate) fn ink(bytes: &[u8]) -> Vec<Ink> {
    let file = Pdf::new(bytes.to_vec()).expect("a PDF");
    file.pages()
        .iter()
        .map(|page| {
            let boxes = ["MediaBox", "CropBox", "BleedBox", "TrimBox"].map(|name| {
                let sides: Vec<f64> =
                    page.raw().get::<Array<'_>>(name).expect(name).iter::<Number>().map(|side| side.as_f64()).collect();
                sides.try_into().expect("four sides")
            });
            let mut found = Ink { boxes, ..Ink::default() };
            let height = boxes[0][3];
            let mm = |[x, y]: [f64; 2]| [x * 25.4 / 72.0, (height - y) * 25.4 / 72.0];
            let mut matrix: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
            let mut stack = Vec::new();
            let mut path: Vec<[f64; 2]> = Vec::new();
            let mut rectangles: Vec<[f64; 4]> = Vec::new();
            let mut operations = UntypedIter::new(page.page_stream().expect("content"));
            while let Some(operation) = operations.next() {
                let values: Vec<f64> = operation
                    .operands()
                    .filter_map(|object| if let Object::Number(number) = object { Some(number.as_f64()) } else { None })
                    .collect();
                match &operation.operator[..] {
                    b"q" => stack.push(matrix),
                    b"Q" => matrix = stack.pop().expect("a state to go back to"),
                    b"cm" => matrix = after(values.try_into().expect("six numbers"), matrix),
                    b"m" | b"l" => path.push(mm(at(matrix, values[0], values[1]))),
                    b"c" => path.push(mm(at(matrix, values[4], values[5]))),
                    b"re" => {
                        let [left, bottom] = mm(at(matrix, values[0], values[1]));
                        let [right, top] = mm(at(matrix, values[0] + values[2], values[1] + values[3]));
                        rectangles.push([left, top, right - left, bottom - top]);
                    }
                    b"S" => found.lines.push(std::mem::take(&mut path)),
                    b"f" => {
                        if !path.is_empty() {
                            found.fills.push(std::mem::take(&mut path));
                        }
                        found.modules.append(&mut rectangles);
                    }
                    b"Tm" => found.texts.push(mm(at(matrix, values[4], values[5]))),
                    _ => {}
                }
            }
            assert!(stack.is_empty(), "every state is left again");
            found
        })
        .collect()
}
