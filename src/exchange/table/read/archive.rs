//! The directory of a ZIP file, as XLSX and ODS files are: what its parts say they unpack to, and the parts themselves.
//!
//! Only what those files need: stored and deflated parts, one volume, no passwords (the ZIP application note, 4.3 and
//! 4.5.3, from memory). The library that reads workbooks refuses parts that unpack to more than they say, so what they
//! say bounds what they take.

use super::{ReadProblem, UNPACKED_LIMIT, inflate};

const END: [u8; 4] = *b"PK\x05\x06";
const END_LENGTH: usize = 22;
const WIDE_END: [u8; 4] = *b"PK\x06\x06";
const WIDE_END_LENGTH: usize = 56;
const WIDE_PLACE: [u8; 4] = *b"PK\x06\x07";
const WIDE_PLACE_LENGTH: usize = 20;
const ENTRY: [u8; 4] = *b"PK\x01\x02";
const ENTRY_LENGTH: usize = 46;
const PART: [u8; 4] = *b"PK\x03\x04";
const PART_LENGTH: usize = 30;

/// Most parts; a workbook has a few dozen.
const PARTS_LIMIT: usize = 10_000;

/// A part as the directory has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Part {
    /// Its name inside.
    pub(super) name: String,
    method: u16,
    packed: u64,
    unpacked: u64,
    offset: u64,
}

/// The parts of an archive, whose sizes are within the limits.
#[derive(Debug)]
pub(super) struct Archive<'a> {
    bytes: &'a [u8],
    /// Bytes before the archive proper, which its own offsets do not count.
    before: u64,
    pub(super) parts: Vec<Part>,
}

fn damaged(words: &str) -> ReadProblem {
    ReadProblem::Damaged(words.to_owned())
}

impl<'a> Archive<'a> {
    /// Reads the directory. A file in which more than one directory could be meant is refused: two readers might not
    /// take the same.
    pub(super) fn open(bytes: &'a [u8]) -> Result<Self, ReadProblem> {
        let mut ends = bytes.windows(END.len()).enumerate().filter(|(_, window)| *window == END).map(|(at, _)| at);
        let end = ends.next().ok_or_else(|| damaged("its directory is missing; it was cut off or is damaged"))?;
        if ends.next().is_some() {
            return Err(damaged("it has two directories; open it in a spreadsheet and save it again"));
        }
        let broken = || damaged("its directory is damaged");
        let record = bytes.get(end..end + END_LENGTH).ok_or_else(broken)?;
        let count = usize::from(number16(record, 10).ok_or_else(broken)?);
        let size = u64::from(number32(record, 12).ok_or_else(broken)?);
        let offset = u64::from(number32(record, 16).ok_or_else(broken)?);
        if count == 0xffff || count > PARTS_LIMIT || offset == u64::from(u32::MAX) {
            return Err(damaged("it has more parts than a workbook has"));
        }
        let stop = match wide_end(bytes, end) {
            None => end,
            // It must say the same, so that no reader takes another directory.
            Some((stop, wide_size, wide_offset)) if (wide_size, wide_offset) == (size, offset) => stop,
            Some(_) => return Err(broken()),
        };
        let start = (stop as u64).checked_sub(size).ok_or_else(broken)?;
        let before = start.checked_sub(offset).ok_or_else(broken)?;
        let mut at = usize::try_from(start).map_err(|_| broken())?;
        let mut parts = Vec::with_capacity(count);
        for _ in 0..count {
            let (part, length) = entry(bytes.get(at..stop).ok_or_else(broken)?).ok_or_else(broken)?;
            parts.push(part);
            at += length;
        }
        if at != stop {
            return Err(broken());
        }
        let unpacked = parts.iter().fold(0_u64, |sum, part| sum.saturating_add(part.unpacked));
        if unpacked > UNPACKED_LIMIT {
            return Err(ReadProblem::UnpacksTooLarge { bytes: unpacked });
        }
        Ok(Self { bytes, before, parts })
    }

    /// A part, unpacked.
    pub(super) fn unpack(&self, part: &Part) -> Result<Vec<u8>, ReadProblem> {
        let broken = || ReadProblem::Damaged(format!("its part {:?} is damaged", part.name));
        let start = usize::try_from(self.before.saturating_add(part.offset)).map_err(|_| broken())?;
        let head = start.checked_add(PART_LENGTH).and_then(|end| self.bytes.get(start..end)).ok_or_else(broken)?;
        if !head.starts_with(&PART) {
            return Err(broken());
        }
        let names = number16(head, 26).zip(number16(head, 28)).ok_or_else(broken)?;
        let start = start + PART_LENGTH + usize::from(names.0) + usize::from(names.1);
        let packed = usize::try_from(part.packed).map_err(|_| broken())?;
        let unpacked = usize::try_from(part.unpacked).map_err(|_| broken())?;
        let bytes = start.checked_add(packed).and_then(|end| self.bytes.get(start..end)).ok_or_else(broken)?;
        match part.method {
            0 if packed == unpacked => Ok(bytes.to_vec()),
            8 => inflate::inflate(bytes, unpacked).filter(|out| out.len() == unpacked).ok_or_else(broken),
            _ => Err(broken()),
        }
    }
}

/// The wide record of the end that some writers put before the plain one: where it begins, and the directory's size and
/// offset by it.
fn wide_end(bytes: &[u8], end: usize) -> Option<(usize, u64, u64)> {
    let stop = end.checked_sub(WIDE_END_LENGTH + WIDE_PLACE_LENGTH)?;
    let record = bytes.get(stop..end)?;
    let place = record.get(WIDE_END_LENGTH..)?;
    (record.starts_with(&WIDE_END) && place.starts_with(&WIDE_PLACE)).then_some(())?;
    Some((stop, number64(record, 40)?, number64(record, 48)?))
}

/// The first entry of the directory's bytes, and how long it is.
fn entry(bytes: &[u8]) -> Option<(Part, usize)> {
    bytes.starts_with(&ENTRY).then_some(())?;
    let [names, extras, words] = [number16(bytes, 28)?, number16(bytes, 30)?, number16(bytes, 32)?].map(usize::from);
    let name = bytes.get(ENTRY_LENGTH..ENTRY_LENGTH + names)?;
    let extra = bytes.get(ENTRY_LENGTH + names..ENTRY_LENGTH + names + extras)?;
    let length = ENTRY_LENGTH + names + extras + words;
    bytes.get(..length)?;
    let mut part = Part {
        name: String::from_utf8_lossy(name).into_owned(),
        method: number16(bytes, 10)?,
        packed: u64::from(number32(bytes, 20)?),
        unpacked: u64::from(number32(bytes, 24)?),
        offset: u64::from(number32(bytes, 42)?),
    };
    widen(&mut part, extra)?;
    Some((part, length))
}

/// Sizes of 0xFFFFFFFF stand in the extra field 1 instead, eight bytes each.
fn widen(part: &mut Part, extra: &[u8]) -> Option<()> {
    let narrow = u64::from(u32::MAX);
    if ![part.unpacked, part.packed, part.offset].contains(&narrow) {
        return Some(());
    }
    let mut rest = extra;
    loop {
        let (kind, size) = (number16(rest, 0)?, usize::from(number16(rest, 2)?));
        let field = rest.get(4..4 + size)?;
        if kind == 1 {
            let (numbers, _) = field.as_chunks::<8>();
            let mut numbers = numbers.iter().map(|number| u64::from_le_bytes(*number));
            for value in [&mut part.unpacked, &mut part.packed, &mut part.offset] {
                if *value == narrow {
                    *value = numbers.next()?;
                }
            }
            return Some(());
        }
        rest = rest.get(4 + size..)?;
    }
}

fn number16(bytes: &[u8], at: usize) -> Option<u16> {
    bytes.get(at..at + 2).and_then(|two| two.try_into().ok()).map(u16::from_le_bytes)
}

fn number32(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..at + 4).and_then(|four| four.try_into().ok()).map(u32::from_le_bytes)
}

fn number64(bytes: &[u8], at: usize) -> Option<u64> {
    bytes.get(at..at + 8).and_then(|eight| eight.try_into().ok()).map(u64::from_le_bytes)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// An archive of stored parts, made by hand.
    pub(in super::super) fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut directory = Vec::new();
        for (name, body) in parts {
            let offset = u32::try_from(bytes.len()).unwrap();
            let size = u32::try_from(body.len()).unwrap();
            let names = u16::try_from(name.len()).unwrap();
            let mut common = vec![20, 0, 0, 0, 0, 0, 0, 0, 0x21, 0];
            common.extend(crc32(body).to_le_bytes());
            common.extend(size.to_le_bytes());
            common.extend(size.to_le_bytes());
            common.extend(names.to_le_bytes());
            common.extend([0, 0]);
            bytes.extend(PART);
            bytes.extend(&common);
            bytes.extend(name.as_bytes());
            bytes.extend(*body);
            directory.extend(ENTRY);
            directory.extend([20, 0]);
            directory.extend(&common);
            directory.extend([0; 10]);
            directory.extend(offset.to_le_bytes());
            directory.extend(name.as_bytes());
        }
        let offset = u32::try_from(bytes.len()).unwrap();
        let count = u16::try_from(parts.len()).unwrap();
        bytes.extend(&directory);
        bytes.extend(END);
        bytes.extend([0; 4]);
        bytes.extend(count.to_le_bytes());
        bytes.extend(count.to_le_bytes());
        bytes.extend(u32::try_from(directory.len()).unwrap().to_le_bytes());
        bytes.extend(offset.to_le_bytes());
        bytes.extend([0, 0]);
        bytes
    }

    /// The check sum of ZIP: CRC-32 with the polynomial 0xEDB88320.
    fn crc32(bytes: &[u8]) -> u32 {
        let mut sum = u32::MAX;
        for byte in bytes {
            sum ^= u32::from(*byte);
            for _ in 0..8 {
                sum = if sum & 1 == 1 { (sum >> 1) ^ 0xedb8_8320 } else { sum >> 1 };
            }
        }
        !sum
    }

    #[test]
    fn parts_come_out_as_they_went_in() {
        // The check value of CRC-32 for "123456789" (from memory of the catalogue of parametrised CRC algorithms).
        assert_eq!(crc32(b"123456789"), 0xcbf4_3926);
        let bytes = archive(&[("a.xml", b"<a/>"), ("b", b"")]);
        let open = Archive::open(&bytes).unwrap();
        assert_eq!(open.parts.iter().map(|part| part.name.as_str()).collect::<Vec<_>>(), ["a.xml", "b"]);
        assert_eq!(open.unpack(&open.parts[0]).unwrap(), b"<a/>");
        for end in 0..bytes.len() {
            assert!(Archive::open(&bytes[..end]).is_err(), "cut at {end}");
        }
        assert!(Archive::open(&[&bytes[..], &bytes[..]].concat()).is_err(), "two directories");
    }

    #[test]
    fn a_part_that_says_it_unpacks_to_gigabytes_is_refused_unread() {
        let mut bytes = archive(&[("a.xml", b"<a/>")]);
        let entry = bytes.windows(4).position(|four| four == ENTRY).unwrap();
        bytes[entry + 24..entry + 28].copy_from_slice(&4_000_000_000_u32.to_le_bytes());
        assert_eq!(Archive::open(&bytes).unwrap_err(), ReadProblem::UnpacksTooLarge { bytes: 4_000_000_000 });
    }

    #[test]
    fn a_wide_end_is_passed_over_when_it_says_the_same() {
        let plain = archive(&[("a.xml", b"<a/>")]);
        let end = plain.len() - END_LENGTH;
        for (lie, fine) in [(0_u8, true), (1, false)] {
            let mut wide = [0_u8; WIDE_END_LENGTH + WIDE_PLACE_LENGTH];
            wide[..4].copy_from_slice(&WIDE_END);
            wide[WIDE_END_LENGTH..WIDE_END_LENGTH + 4].copy_from_slice(&WIDE_PLACE);
            wide[40..44].copy_from_slice(&plain[end + 12..end + 16]);
            wide[48..52].copy_from_slice(&plain[end + 16..end + 20]);
            wide[49] += lie;
            let bytes = [&plain[..end], &wide, &plain[end..]].concat();
            assert_eq!(Archive::open(&bytes).is_ok(), fine);
        }
    }
}
