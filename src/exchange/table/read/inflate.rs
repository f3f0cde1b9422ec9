//! Unpacks the “deflate” of RFC 1951, never to more than was said. Used to look at the parts of a workbook before they
//! reach the library that reads them.

/// Longest code, bits.
const LONGEST: usize = 15;

/// Order in which the lengths of the lengths' codes stand (RFC 1951, 3.2.7).
const LENGTH_ORDER: [usize; 19] = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

/// Base and extra bits of the lengths 257 to 285 (RFC 1951, 3.2.5).
const LENGTHS: [(u16, u8); 29] = [
    (3, 0),
    (4, 0),
    (5, 0),
    (6, 0),
    (7, 0),
    (8, 0),
    (9, 0),
    (10, 0),
    (11, 1),
    (13, 1),
    (15, 1),
    (17, 1),
    (19, 2),
    (23, 2),
    (27, 2),
    (31, 2),
    (35, 3),
    (43, 3),
    (51, 3),
    (59, 3),
    (67, 4),
    (83, 4),
    (99, 4),
    (115, 4),
    (131, 5),
    (163, 5),
    (195, 5),
    (227, 5),
    (258, 0),
];

/// Base and extra bits of the distances 0 to 29.
const DISTANCES: [(u16, u8); 30] = [
    (1, 0),
    (2, 0),
    (3, 0),
    (4, 0),
    (5, 1),
    (7, 1),
    (9, 2),
    (13, 2),
    (17, 3),
    (25, 3),
    (33, 4),
    (49, 4),
    (65, 5),
    (97, 5),
    (129, 6),
    (193, 6),
    (257, 7),
    (385, 7),
    (513, 8),
    (769, 8),
    (1025, 9),
    (1537, 9),
    (2049, 10),
    (3073, 10),
    (4097, 11),
    (6145, 11),
    (8193, 12),
    (12_289, 12),
    (16_385, 13),
    (24_577, 13),
];

/// What `packed` unpacks to; none where it is damaged or unpacks to more than `limit` bytes.
pub(super) fn inflate(packed: &[u8], limit: usize) -> Option<Vec<u8>> {
    let mut bits = Bits { bytes: packed, hold: 0, held: 0 };
    let mut out = Vec::new();
    loop {
        let last = bits.take(1)? == 1;
        match bits.take(2)? {
            0 => stored(&mut bits, &mut out, limit)?,
            1 => {
                let (literals, distances) = fixed()?;
                block(&mut bits, &mut out, limit, &literals, &distances)?;
            }
            2 => {
                let (literals, distances) = dynamic(&mut bits)?;
                block(&mut bits, &mut out, limit, &literals, &distances)?;
            }
            _ => return None,
        }
        if last {
            return Some(out);
        }
    }
}

/// Bits from the least of each byte.
struct Bits<'a> {
    bytes: &'a [u8],
    hold: u64,
    held: u32,
}

impl Bits<'_> {
    fn fill(&mut self) {
        while self.held <= 48 {
            let Some((byte, rest)) = self.bytes.split_first() else { break };
            self.hold |= u64::from(*byte) << self.held;
            self.held += 8;
            self.bytes = rest;
        }
    }

    fn take(&mut self, count: u32) -> Option<usize> {
        self.fill();
        let value = self.hold & ((1 << count) - 1);
        self.drop(count)?;
        usize::try_from(value).ok()
    }

    fn drop(&mut self, count: u32) -> Option<()> {
        self.held = self.held.checked_sub(count)?;
        self.hold >>= count;
        Some(())
    }
}

/// A table of codes: by the next bits, the symbol and how many bits it took (0 for none).
struct Codes {
    bits: u32,
    table: Vec<(u16, u8)>,
}

impl Codes {
    /// The codes of these lengths (RFC 1951, 3.2.2); none where they claim more room than there is.
    fn new(lengths: &[u8]) -> Option<Self> {
        let longest = usize::from(lengths.iter().copied().max().unwrap_or(0));
        if longest > LONGEST {
            return None;
        }
        let bits = u32::try_from(longest).ok()?;
        let mut table = vec![(0, 0); 1 << bits];
        let mut code = 0_usize;
        for length in 1..=longest {
            code <<= 1;
            let short = u8::try_from(length).ok()?;
            for (symbol, _) in lengths.iter().enumerate().filter(|(_, other)| **other == short) {
                if code >= 1 << length {
                    return None;
                }
                let first = (code << (usize::BITS as usize - length)).reverse_bits();
                for slot in table.iter_mut().skip(first).step_by(1 << length) {
                    *slot = (u16::try_from(symbol).ok()?, short);
                }
                code += 1;
            }
        }
        Some(Self { bits, table })
    }

    fn next(&self, bits: &mut Bits<'_>) -> Option<usize> {
        bits.fill();
        let ahead = usize::try_from(bits.hold & ((1 << self.bits) - 1)).ok()?;
        let (symbol, length) = *self.table.get(ahead)?;
        if length == 0 {
            return None;
        }
        bits.drop(u32::from(length))?;
        Some(usize::from(symbol))
    }
}

fn fixed() -> Option<(Codes, Codes)> {
    let mut lengths = vec![8_u8; 144];
    lengths.resize(256, 9);
    lengths.resize(280, 7);
    lengths.resize(288, 8);
    Some((Codes::new(&lengths)?, Codes::new(&[5; 30])?))
}

fn dynamic(bits: &mut Bits<'_>) -> Option<(Codes, Codes)> {
    let literals = bits.take(5)? + 257;
    let distances = bits.take(5)? + 1;
    let count = bits.take(4)? + 4;
    let mut order = [0_u8; 19];
    for place in LENGTH_ORDER.iter().take(count) {
        *order.get_mut(*place)? = u8::try_from(bits.take(3)?).ok()?;
    }
    let codes = Codes::new(&order)?;
    let mut lengths: Vec<u8> = Vec::with_capacity(literals + distances);
    while lengths.len() < literals + distances {
        let (value, times) = match codes.next(bits)? {
            16 => (*lengths.last()?, 3 + bits.take(2)?),
            17 => (0, 3 + bits.take(3)?),
            18 => (0, 11 + bits.take(7)?),
            length => (u8::try_from(length).ok()?, 1),
        };
        lengths.resize(lengths.len() + times, value);
    }
    let (first, second) = lengths.split_at_checked(literals)?;
    (second.len() == distances).then_some(())?;
    Some((Codes::new(first)?, Codes::new(second)?))
}

fn stored(bits: &mut Bits<'_>, out: &mut Vec<u8>, limit: usize) -> Option<()> {
    bits.drop(bits.held % 8)?;
    let length = bits.take(16)?;
    let check = bits.take(16)?;
    if length ^ check != 0xffff || out.len() + length > limit {
        return None;
    }
    for _ in 0..length {
        out.push(u8::try_from(bits.take(8)?).ok()?);
    }
    Some(())
}

fn block(bits: &mut Bits<'_>, out: &mut Vec<u8>, limit: usize, literals: &Codes, distances: &Codes) -> Option<()> {
    loop {
        let symbol = literals.next(bits)?;
        if let Ok(byte) = u8::try_from(symbol) {
            if out.len() >= limit {
                return None;
            }
            out.push(byte);
            continue;
        }
        if symbol == 256 {
            return Some(());
        }
        let (base, extra) = *LENGTHS.get(symbol - 257)?;
        let length = usize::from(base) + bits.take(u32::from(extra))?;
        let (base, extra) = *DISTANCES.get(distances.next(bits)?)?;
        let distance = usize::from(base) + bits.take(u32::from(extra))?;
        let start = out.len().checked_sub(distance)?;
        if out.len() + length > limit {
            return None;
        }
        for place in start..start + length {
            out.push(*out.get(place)?);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Made once with zlib's `compressobj(level, DEFLATED, -15)`, an independent writer: levels 0, 9 and 9 with the fixed
    /// codes only.
    const TEXT: &str = "lantern drop, lantern drop, lantern drop; enamel 0123456789";

    #[test]
    fn what_zlib_packed_is_unpacked() {
        for (packed, way) in [(STORED, "stored"), (FIXED, "fixed"), (DYNAMIC, "dynamic")] {
            let packed: Vec<u8> =
                (0..packed.len() / 2).map(|at| u8::from_str_radix(&packed[2 * at..2 * at + 2], 16).unwrap()).collect();
            let text = if way == "dynamic" { (0..400).map(|at| format!("{at};")).collect() } else { TEXT.to_owned() };
            assert_eq!(inflate(&packed, 10_000).as_deref(), Some(text.as_bytes()), "{way}");
            assert_eq!(inflate(&packed, text.len() - 1), None, "{way}: never more than was said");
            for end in 0..packed.len() {
                assert_eq!(inflate(&packed[..end], 10_000), None, "{way}: cut at {end}");
            }
        }
    }

    const STORED: &str = "013b00c4ff6c616e7465726e2064726f702c206c616e7465726e2064726f702c206c616e7465726e2064726f703b20656e61\
         6d656c2030313233343536373839";
    const FIXED: &str = "cb49cc2b492dca534829ca2fd051c8c1c9b35648cd4bcc4dcd513030343236313533b7b00400";
    const DYNAMIC: &str = "1dd4c195c3300c03d1960cc092ac87fefbca3077ee26994ff1a9eaa66f57774fbfdeeaa954b94af556abdad5a9beead64fcd\
         dfb84efdd6abdef5a9bffa364fa3867f99e66d56b39bd37ccdedfbf4555ff7e513dfbeabefee7bfa7e7d6fd7d3a52e77a58b\
         2fb4ba76d7e9faba6ef7d3ad6e77a7fbede6fbeeeed3fd75df9ea7473dee49cfdbb37af839a7e7ebb9fd9e7eeae77ee9f7f6\
         5bfd763f7eedd7eff63ebdea756f7adfded5bb7b4f2f31a606391e7a3c047928f290e4a1c94394872a0f591ee6fed9989b70\
         536ed24dbb8937f5261ffd444079fa324743115154141945471152941429454b65209823a7e829828aa222a9682aa28aaa22\
         abde11638eb222ad682be28aba22afe82b028bc25a43cb1c91456591597416a14569915ab416b1b5670798a3b7082e8a8be4\
         a2b9882eaa8beca2bbce2c0b73a417ed457c515fe417fd0580101004fa66ab9843413008070121240485b01018424377d66f\
         f68f05c4c378180fe3613c8c87f1301ec6c39a45650e0fe3613c8c87f1301ec6c3b3cfb3d0ff8d666e767a967ab67ad67af6\
         7a161b0fe3613c9c597de6f0301ec6c378180fe3613c8c87f1f03b6f84393c8c87f1301ec6c378180fe3613cbce631318787\
         f1301ec6c378180fe3613c8c87f7bc3ae6f0301ec6c378180fe3613c8c87f1f099e7c91c1ec6c378180fe3613c8c87f1301e\
         fee61d338787f1301ec6c378180fe3613c8c87ef3cf879f13c793c8247f0081ec12378048fe0113ca2390dcce1113c8247f0\
         081ec12378048fe011cf0d610e8fe0113c8247f0081e994b33a7666ecdffd83037e766eecd1c9cb9387372f0081ec12378e4\
         9dabc41c1ec12378048fe0113c8247f0081e5973be98c32378048fe0113c8247f0081ec1237bee1c7378048fe0113c8247f0\
         081ec12378e4cc41640e8fe0113c8247f0081ec12378048f7c733999c32378048fe0113c8247f0081ec123774eeced0f";
}
