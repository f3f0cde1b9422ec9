//! The rectangles a layout leaves free.

use super::plane::Bounds;

/// Most off-cuts kept of one sheet.
const MOST_OFF_CUTS: usize = 8;

/// Free rectangles whose sides are `least` or longer, largest first, none nearer to another than `gap`. What is in the
/// way is taken by the bounds around it, which include the gap already.
pub(super) fn rectangles(sheet: &Bounds, in_the_way: &[Bounds], least: f64, gap: f64) -> Vec<Bounds> {
    let mut in_the_way = in_the_way.to_vec();
    let mut found = Vec::new();
    while found.len() < MOST_OFF_CUTS {
        let Some(best) = largest(sheet, &in_the_way, least) else { break };
        in_the_way.push(best.grown(gap));
        found.push(best);
    }
    found
}

/// The largest free rectangle.
fn largest(sheet: &Bounds, in_the_way: &[Bounds], least: f64) -> Option<Bounds> {
    let mut lefts: Vec<f64> = in_the_way.iter().map(|bounds| bounds.high[0]).collect();
    lefts.push(sheet.low[0]);
    lefts.sort_by(f64::total_cmp);
    lefts.dedup();
    let mut by_left = in_the_way.to_vec();
    by_left.sort_by(|a, b| a.low[0].total_cmp(&b.low[0]));
    let mut best: Option<(f64, Bounds)> = None;
    for left in lefts {
        if left < sheet.low[0] || sheet.high[0] - left < least {
            continue;
        }
        // Widened to the right, one obstacle after another narrows what is free in height.
        let mut free = vec![(sheet.low[1], sheet.high[1])];
        let ends = by_left.iter().map(|bounds| (bounds.low[0], Some(bounds))).chain([(sheet.high[0], None)]);
        for (right, next) in ends {
            let right = right.min(sheet.high[0]);
            if right - left >= least {
                for &(low, high) in &free {
                    let area = (right - left) * (high - low);
                    if best.as_ref().is_none_or(|(most, _)| area > *most + 1e-9) {
                        best = Some((area, Bounds { low: [left, low], high: [right, high] }));
                    }
                }
            }
            let Some(next) = next else { break };
            if next.high[0] > left {
                free = free
                    .into_iter()
                    .flat_map(|(low, high)| {
                        if next.low[1] >= high || next.high[1] <= low {
                            [(low, high), (low, low)]
                        } else {
                            [(low, next.low[1]), (next.high[1], high)]
                        }
                    })
                    .filter(|(low, high)| high - low >= least)
                    .collect();
                if free.is_empty() {
                    break;
                }
            }
        }
    }
    best.map(|(_, bounds)| bounds)
}
