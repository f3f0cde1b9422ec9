//! Whether firings can be in the kiln together.

use super::Firing;

/// What firings have in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shared {
    /// The lowest temperature all accept, °C.
    pub lowest_c: i32,
    /// The highest temperature all accept and stand, °C.
    pub highest_c: i32,
    /// The shortest time in the heat all accept, seconds.
    pub shortest: u32,
    /// The longest time in the heat all accept, seconds.
    pub longest: u32,
    /// The strictest ceiling, °C.
    pub ceiling_c: i32,
    /// The place in the list of the one that sets it, the first of several.
    pub strictest: usize,
}

/// Why firings cannot be in the kiln together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Apart {
    /// There is no firing.
    #[error("there is no firing; accepted is 1 or more")]
    Nothing,
    /// One needs more heat than another accepts or stands.
    #[error("one needs {lowest_c} °C at least, another accepts {highest_c} °C at most")]
    Heat {
        /// The place in the list of the one that needs the heat; it may be the same as the other.
        hot: usize,
        /// What it needs at least, °C.
        lowest_c: i32,
        /// The place in the list of the one that does not stand it.
        cool: usize,
        /// What that accepts and stands at most, °C.
        highest_c: i32,
    },
    /// One needs more time in the heat than another accepts.
    #[error("one needs {shortest} seconds at least, another accepts {longest} seconds at most")]
    Time {
        /// The place in the list of the one that needs the time.
        slow: usize,
        /// What it needs at least, seconds.
        shortest: u32,
        /// The place in the list of the one that does not stand it.
        quick: usize,
        /// What that accepts at most, seconds.
        longest: u32,
    },
}

/// The heat and time at which all of some firings can be in the kiln together, and which sets the strictest ceiling.
///
/// # Errors
/// [`Apart`] with two that have nothing in common.
pub fn share(firings: &[Firing]) -> Result<Shared, Apart> {
    let first_most = |of: &dyn Fn(&Firing) -> i64| {
        let mut best: Option<(i64, usize, &Firing)> = None;
        for (place, firing) in firings.iter().enumerate() {
            let value = of(firing);
            if best.is_none_or(|(known, _, _)| value > known) {
                best = Some((value, place, firing));
            }
        }
        best.map(|(_, place, firing)| (place, firing)).ok_or(Apart::Nothing)
    };
    let (hot, hottest) = first_most(&|firing| i64::from(firing.lowest_c))?;
    let (cool, coolest) = first_most(&|firing| -i64::from(firing.top_c()))?;
    let (slow, slowest) = first_most(&|firing| i64::from(firing.shortest))?;
    let (quick, quickest) = first_most(&|firing| -i64::from(firing.longest))?;
    let (strictest, strict) = first_most(&|firing| -i64::from(firing.ceiling_c))?;
    let (lowest_c, highest_c) = (hottest.lowest_c, coolest.top_c());
    if lowest_c > highest_c {
        return Err(Apart::Heat { hot, lowest_c, cool, highest_c });
    }
    let (shortest, longest) = (slowest.shortest, quickest.longest);
    if shortest > longest {
        return Err(Apart::Time { slow, shortest, quick, longest });
    }
    Ok(Shared { lowest_c, highest_c, shortest, longest, ceiling_c: strict.ceiling_c, strictest })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn firing(lowest_c: i32, highest_c: i32, ceiling_c: i32, shortest: u32, longest: u32) -> Firing {
        Firing { lowest_c, highest_c, ceiling_c, shortest, longest, rest: 0 }
    }

    // Expected values: worked by hand.
    #[test]
    fn ranges_overlap_and_the_strictest_ceiling_is_named() {
        let all = [firing(780, 820, 880, 90, 180), firing(760, 830, 800, 120, 240), firing(750, 850, 800, 60, 150)];
        let expected =
            Shared { lowest_c: 780, highest_c: 800, shortest: 120, longest: 150, ceiling_c: 800, strictest: 1 };
        assert_eq!(share(&all), Ok(expected));
    }

    #[test]
    fn what_stands_against_sharing_is_named() {
        assert_eq!(share(&[]), Err(Apart::Nothing));
        let heat = [firing(780, 820, 880, 90, 180), firing(760, 830, 770, 90, 180)];
        assert_eq!(share(&heat), Err(Apart::Heat { hot: 0, lowest_c: 780, cool: 1, highest_c: 770 }));
        let time = [firing(780, 820, 880, 190, 240), firing(780, 820, 880, 90, 180)];
        assert_eq!(share(&time), Err(Apart::Time { slow: 0, shortest: 190, quick: 1, longest: 180 }));
    }
}
