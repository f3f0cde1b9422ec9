//! What of the pieces ready goes into a load.
//!
//! Only full loads are made: a piece that is ready, goes with the others and still has room can be taken out of its later
//! load at no loss.

use std::collections::BTreeMap;

/// So many pieces alike that could go in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice {
    pub(super) kind: usize,
    pub(super) count: i64,
    pub(super) area: i64,
    /// Seconds from the beginning of the load to the end of the pieces' last firing.
    pub(super) tail: i64,
    /// Seconds needed in the heat.
    pub(super) shortest: i64,
}

/// Counts taken of each kind.
pub(super) type Pack = Vec<(usize, i64)>;

/// Packs a shelf, `most` ways; `true` beside them where these are all the full ones.
pub(super) fn packs(choices: &mut [Choice], shelf: i64, most: usize) -> (Vec<Pack>, bool) {
    let all: i64 = choices.iter().map(|choice| choice.area.saturating_mul(choice.count)).sum();
    if all <= shelf {
        return (vec![choices.iter().map(|choice| (choice.kind, choice.count)).collect()], true);
    }
    // Those with most to come first; where that does not list them all, also the largest and the slowest first.
    choices.sort_by_key(|choice| (-choice.tail, -choice.area, choice.kind));
    let found = listed(choices, shelf, most);
    if found.1 {
        return found;
    }
    // Of each order those that fill the shelf best.
    let share = most.div_ceil(3);
    let areas: BTreeMap<usize, i64> = choices.iter().map(|choice| (choice.kind, choice.area)).collect();
    let area =
        |pack: &Pack| -> i64 { pack.iter().map(|(kind, count)| areas.get(kind).copied().unwrap_or(0) * count).sum() };
    let mut found: Vec<Pack> = Vec::new();
    for order in 0..3 {
        match order {
            0 => {}
            1 => choices.sort_by_key(|choice| (-choice.shortest, -choice.tail, choice.kind)),
            _ => choices.sort_by_key(|choice| (-choice.area, -choice.tail, choice.kind)),
        }
        let mut some = listed(choices, shelf, 4 * share).0;
        some.sort_by_cached_key(|pack| (shelf - area(pack)) * 50 / shelf);
        some.truncate(share);
        for pack in some {
            if found.len() < most && !found.contains(&pack) {
                found.push(pack);
            }
        }
    }
    (found, false)
}

/// Full packs in an order that takes as many of the first kinds as it can, then fewer.
fn listed(choices: &[Choice], shelf: i64, most: usize) -> (Vec<Pack>, bool) {
    // What all from a place of the list on take.
    let mut rest: Vec<i64> = vec![0];
    for choice in choices.iter().rev() {
        rest.push(rest.last().copied().unwrap_or(0) + choice.area.saturating_mul(choice.count));
    }
    rest.reverse();
    let mut listing =
        Listing { choices, rest, most, steps: 16 * (most + choices.len()), found: Vec::new(), is_whole: true };
    listing.go(0, shelf, i64::MAX, &mut Vec::new());
    for pack in &mut listing.found {
        pack.sort_unstable();
    }
    (listing.found, listing.is_whole)
}

struct Listing<'a> {
    choices: &'a [Choice],
    rest: Vec<i64>,
    most: usize,
    /// Steps left, so that a long list of packs that are not full ends too.
    steps: usize,
    found: Vec<Pack>,
    is_whole: bool,
}

impl Listing<'_> {
    /// From a place of the list on; `smallest` is the smallest piece left out so far.
    fn go(&mut self, place: usize, room: i64, smallest: i64, taken: &mut Pack) {
        let Some(choice) = self.choices.get(place).copied() else {
            if smallest > room {
                if self.found.len() < self.most {
                    self.found.push(taken.clone());
                } else {
                    self.is_whole = false;
                }
            }
            return;
        };
        let fits = choice.count.min(room / choice.area.max(1));
        for count in (0..=fits).rev() {
            if self.steps == 0 || !self.is_whole {
                self.is_whole = false;
                return;
            }
            self.steps -= 1;
            let smallest = if count < choice.count { smallest.min(choice.area) } else { smallest };
            // What comes after cannot fill the room any more.
            let after = self.rest.get(place + 1).copied().unwrap_or(0);
            let left = room - choice.area * count;
            if left.saturating_sub(after) >= smallest {
                break;
            }
            if count > 0 {
                taken.push((choice.kind, count));
            }
            self.go(place + 1, left, smallest, taken);
            if count > 0 {
                taken.pop();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn choice(kind: usize, count: i64, area: i64, tail: i64) -> Choice {
        Choice { kind, count, area, tail, shortest: 60 }
    }

    // Expected: listed by hand. On a shelf of 10, threes and fours: 4+4, 4+3+3, 3+3+3.
    #[test]
    fn every_full_pack_is_listed_once() {
        let mut choices = [choice(0, 3, 4, 100), choice(1, 3, 3, 50)];
        let (found, is_whole) = packs(&mut choices, 10, 10);
        assert!(is_whole);
        assert_eq!(found, vec![vec![(0, 2)], vec![(0, 1), (1, 2)], vec![(1, 3)]]);
    }

    #[test]
    fn what_fits_as_a_whole_is_one_pack() {
        let mut choices = [choice(0, 3, 2, 100), choice(1, 1, 3, 50)];
        assert_eq!(packs(&mut choices, 10, 10), (vec![vec![(0, 3), (1, 1)]], true));
    }

    #[test]
    fn a_list_cut_short_says_so() {
        let mut choices = [choice(0, 3, 4, 100), choice(1, 3, 3, 50)];
        let (found, is_whole) = packs(&mut choices, 10, 1);
        assert!(!is_whole);
        assert_eq!(found.len(), 1);
    }
}
