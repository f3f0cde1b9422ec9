//! Dividing a width among steps by their share, with a least width each.
#![allow(clippy::cast_precision_loss)] // steps stay far below 2^23

/// Where a step stands on a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slot {
    /// Left edge.
    pub x: f32,
    /// Width.
    pub width: f32,
}

/// Divides `width` among the weights with `gap` between neighbours. No slot is narrower than `least`, as long as all
/// fit; the others share what is left in proportion.
pub fn slots(weights: &[f32], width: f32, gap: f32, least: f32) -> Vec<Slot> {
    let count = weights.len();
    if count == 0 {
        return Vec::new();
    }
    let gaps = gap * (count - 1) as f32;
    let room = (width - gaps).max(count as f32);
    let least = least.min(room / count as f32);
    let clean: Vec<f32> = weights.iter().map(|weight| if weight.is_finite() { weight.max(0.0) } else { 0.0 }).collect();
    let mut small = vec![false; count];
    loop {
        let fixed = small.iter().filter(|is_small| **is_small).count() as f32 * least;
        let free: f32 = clean.iter().zip(&small).filter(|(_, is_small)| !**is_small).map(|(weight, _)| weight).sum();
        let mut changed = false;
        for (weight, is_small) in clean.iter().zip(small.iter_mut()) {
            let share = if free > 0.0 { weight / free * (room - fixed) } else { 0.0 };
            if !*is_small && share < least {
                *is_small = true;
                changed = true;
            }
        }
        if !changed || small.iter().all(|is_small| *is_small) {
            let all_small = small.iter().all(|is_small| *is_small);
            let mut x = 0.0;
            return clean
                .iter()
                .zip(&small)
                .map(|(weight, is_small)| {
                    let width = if all_small {
                        room / count as f32
                    } else if *is_small {
                        least
                    } else {
                        weight / free * (room - fixed)
                    };
                    let slot = Slot { x, width };
                    x += width + gap;
                    slot
                })
                .collect();
        }
    }
}

/// Which slot a horizontal position falls in; a gap belongs to the slot before it.
pub fn slot_at(slots: &[Slot], x: f32) -> Option<usize> {
    if x < 0.0 {
        return None;
    }
    let index = slots.iter().rposition(|slot| slot.x <= x)?;
    let last = slots.last()?;
    (x <= last.x + last.width).then_some(index)
}

/// Before which slot something let go at a horizontal position would be put; the count for after the last.
pub fn gap_at(slots: &[Slot], x: f32) -> usize {
    slots.iter().take_while(|slot| slot.x + slot.width / 2.0 < x).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn total(slots: &[Slot], gap: f32) -> f32 {
        slots.iter().map(|slot| slot.width).sum::<f32>() + gap * (slots.len() as f32 - 1.0)
    }

    #[test]
    fn they_fill_the_width_and_none_is_too_narrow() {
        let slots = slots(&[8.54, 1.15, 0.8, 0.0, 5.39, 0.09], 1000.0, 3.0, 24.0);
        assert!((total(&slots, 3.0) - 1000.0).abs() < 0.01);
        assert!(slots.iter().all(|slot| slot.width >= 23.99));
        assert!(slots[0].width > slots[4].width);
    }

    #[test]
    fn steps_that_cost_nothing_share_evenly() {
        let slots = slots(&[0.0, 0.0, f32::NAN], 306.0, 3.0, 24.0);
        assert!(slots.iter().all(|slot| (slot.width - 100.0).abs() < 0.01));
    }

    #[test]
    fn many_steps_still_fit() {
        let slots = slots(&[1.0; 90], 300.0, 3.0, 24.0);
        assert!(slots.iter().all(|slot| slot.width > 0.0));
    }

    #[test]
    fn a_position_finds_its_slot_and_its_gap() {
        let slots = slots(&[1.0, 1.0, 1.0], 306.0, 3.0, 24.0);
        assert_eq!(slot_at(&slots, 10.0), Some(0));
        assert_eq!(slot_at(&slots, 150.0), Some(1));
        assert_eq!(slot_at(&slots, 400.0), None);
        assert_eq!(gap_at(&slots, 10.0), 0);
        assert_eq!(gap_at(&slots, 140.0), 1);
        assert_eq!(gap_at(&slots, 305.0), 3);
    }
}
