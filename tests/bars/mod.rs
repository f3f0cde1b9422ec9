//! A plain reader of bars: the widths along a line across them, compared with the tables of the standards. It shares no
//! code with the writer.

/// Bar and space widths of Code 128, values 0 to 105 and stop (ISO/IEC 15417, table 1; from memory).
const CODE_128: &str = "212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 \
    122132 122231 113222 123122 123221 223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 \
    322211 212123 212321 232121 111323 131123 131321 112313 132113 132311 211313 231113 231311 112133 112331 132131 \
    113123 113321 133121 313121 211331 231131 213113 213311 213131 311123 311321 331121 312113 312311 332111 314111 \
    221411 431111 111224 111422 121124 121421 141122 141221 112214 112412 122114 122411 142112 142211 241211 221114 \
    413111 241112 134111 111242 121142 121241 114212 124112 124211 411212 421112 421211 212141 214121 412121 111143 \
    111341 131141 114113 114311 411113 411311 113141 114131 311141 411131 211412 211214 211232 2331112";

/// Space and bar widths of a left-hand digit of odd parity (ISO/IEC 15420, set A; from memory); set B is the same read
/// backwards, set C the same with bars and spaces exchanged.
const EAN_A: [&str; 10] = ["3211", "2221", "2122", "1411", "1132", "1231", "1114", "1312", "1213", "3112"];

/// Which set each left-hand digit is from says the first digit (ISO/IEC 15420, table 2; from memory).
const EAN_FIRST: [&str; 10] =
    ["AAAAAA", "AABABB", "AABBAB", "AABBBA", "ABAABB", "ABBAAB", "ABBBAA", "ABABAB", "ABABBA", "ABBABA"];

/// Widths of bars and spaces in turn along a line, from the first bar to the last: edges lie where the light crosses the
/// middle between the darkest and the lightest, to parts of a dot.
fn widths(line: &[u8]) -> Vec<f64> {
    let (least, most) = (line.iter().min().copied().unwrap_or(0), line.iter().max().copied().unwrap_or(0));
    let middle = (f64::from(least) + f64::from(most)) / 2.0;
    let edges: Vec<f64> = line
        .windows(2)
        .enumerate()
        .filter(|(_, pair)| (f64::from(pair[0]) < middle) != (f64::from(pair[1]) < middle))
        .map(|(at, pair)| at as f64 + (middle - f64::from(pair[0])) / (f64::from(pair[1]) - f64::from(pair[0])))
        .collect();
    edges.windows(2).map(|pair| pair[1] - pair[0]).collect()
}

/// The pattern that is nearest to some widths, and how far it is from them, in modules.
fn nearest<'a>(widths: &[f64], modules: f64, known: impl Iterator<Item = &'a str>) -> Option<(usize, f64)> {
    let module = widths.iter().sum::<f64>() / modules;
    known
        .map(|pattern| {
            let digits = pattern.bytes().map(|digit| f64::from(digit - b'0'));
            digits.zip(widths).map(|(digit, width)| (digit - width / module).abs()).sum::<f64>()
        })
        .enumerate()
        .min_by(|one, other| one.1.total_cmp(&other.1))
}

/// What a line across a Code 128 in code set B or C says; none where its check value is wrong.
pub(crate) fn code_128(line: &[u8]) -> Option<String> {
    let widths = widths(line);
    let (body, stop) = widths.split_at(widths.len().checked_sub(7)?);
    if body.len() % 6 != 0 {
        return None;
    }
    let patterns: Vec<&str> = CODE_128.split_whitespace().collect();
    let (stop_pattern, characters) = patterns.split_last()?;
    nearest(stop, 13.0, std::iter::once(*stop_pattern)).filter(|(_, away)| *away < 2.0)?;
    let values = body
        .chunks(6)
        .map(|part| nearest(part, 11.0, characters.iter().copied()).map(|(value, _)| value))
        .collect::<Option<Vec<usize>>>()?;
    let (check, data) = values.split_last()?;
    let (start, text) = data.split_first()?;
    let sum: usize = *start + text.iter().enumerate().map(|(at, value)| (at + 1) * value).sum::<usize>();
    if sum % 103 != *check {
        return None;
    }
    match start {
        104 => text.iter().map(|value| u8::try_from(value + 32).ok().map(char::from)).collect(),
        105 => Some(text.iter().map(|value| format!("{value:02}")).collect()),
        _ => None,
    }
}

/// What a line across an EAN-13 says; none where its check digit is wrong.
pub(crate) fn ean_13(line: &[u8]) -> Option<String> {
    let widths = widths(line);
    // Three of the guard, six digits of four, five in the middle, six digits, three.
    if widths.len() != 3 + 24 + 5 + 24 + 3 {
        return None;
    }
    let backwards: Vec<String> = EAN_A.iter().map(|pattern| pattern.chars().rev().collect()).collect();
    let (mut sets, mut digits) = (String::new(), String::new());
    for part in widths[3..27].chunks(4) {
        let known = EAN_A.iter().copied().chain(backwards.iter().map(String::as_str));
        let (at, _) = nearest(part, 7.0, known)?;
        sets.push(if at < 10 { 'A' } else { 'B' });
        digits.push_str(&(at % 10).to_string());
    }
    for part in widths[32..56].chunks(4) {
        let (at, _) = nearest(part, 7.0, EAN_A.iter().copied())?;
        digits.push_str(&at.to_string());
    }
    let first = EAN_FIRST.iter().position(|known| *known == sets)?;
    let number = format!("{first}{digits}");
    // From the right, the digits before the last count three and one in turn (GS1 General Specifications, 7.9).
    let sum: u32 =
        number.bytes().rev().zip([1, 3].into_iter().cycle()).map(|(digit, by)| u32::from(digit - b'0') * by).sum();
    sum.is_multiple_of(10).then_some(number)
}
