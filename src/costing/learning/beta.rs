//! Quantiles of the beta distribution, in binary floats: statistics of a share, never money or quantities.
#![allow(clippy::float_arithmetic)]

/// Most halvings of a quantile: each gives a binary digit, and a float has no more than these between 0 and 1 that matter.
const MOST_HALVINGS: u32 = 200;

/// Most terms of the continued fraction; it needs some `√max(a, b)` of them.
const MOST_TERMS: u32 = 20_000;

/// Where the next term changes nothing any more.
const ENOUGH: f64 = 1e-15;

/// Instead of a divisor of nothing.
const TINY: f64 = 1e-300;

/// The value a variable of Beta(`a`, `b`) stays below with probability `probability`, `a` and `b` above 0, by halving.
pub(super) fn quantile(a: f64, b: f64, probability: f64) -> f64 {
    let scale = log_gamma(a + b) - log_gamma(a) - log_gamma(b);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..MOST_HALVINGS {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if below(a, b, scale, middle) < probability {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// The regularised incomplete beta function `I_x(a, b)` by its continued fraction, on the side where it converges fast
/// (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.5.8 and 26.5.2; the fraction is evaluated forwards as
/// by Lentz, from memory).
fn below(a: f64, b: f64, scale: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = (scale + a * x.ln() + b * (-x).ln_1p()).exp();
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(a, b, x) / a
    } else {
        1.0 - front * fraction(b, a, 1.0 - x) / b
    }
}

fn fraction(a: f64, b: f64, x: f64) -> f64 {
    let off_zero = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut above = 1.0;
    let mut below = 1.0 / off_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut value = below;
    for term in 1..MOST_TERMS {
        let term = f64::from(term);
        let even = term * (b - term) * x / ((a + 2.0 * term - 1.0) * (a + 2.0 * term));
        below = 1.0 / off_zero(1.0 + even * below);
        above = off_zero(1.0 + even / above);
        value *= below * above;
        let odd = -(a + term) * (a + b + term) * x / ((a + 2.0 * term) * (a + 2.0 * term + 1.0));
        below = 1.0 / off_zero(1.0 + odd * below);
        above = off_zero(1.0 + odd / above);
        let step = below * above;
        value *= step;
        if (step - 1.0).abs() < ENOUGH {
            break;
        }
    }
    value
}

/// `ln Γ(x)` for x above 0: Stirling's series (Abramowitz and Stegun, 6.1.41) after lifting x above 15 by Γ(x+1) = xΓ(x).
fn log_gamma(x: f64) -> f64 {
    let mut lifted = x;
    let mut product = 1.0;
    while lifted < 15.0 {
        product *= lifted;
        lifted += 1.0;
    }
    let square = 1.0 / (lifted * lifted);
    let series = (1.0 / 12.0
        - square * (1.0 / 360.0 - square * (1.0 / 1260.0 - square * (1.0 / 1680.0 - square / 1188.0))))
        / lifted;
    (lifted - 0.5) * lifted.ln() - lifted + 0.5 * (2.0 * std::f64::consts::PI).ln() + series - f64::ln(product)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Γ(1/2) = √π and Γ(n) = (n−1)!: elementary.
    #[test]
    fn gamma_is_known_at_halves_and_whole_numbers() {
        assert!((log_gamma(0.5) - 0.5 * std::f64::consts::PI.ln()).abs() < 1e-14);
        assert!((log_gamma(6.0) - 120.0_f64.ln()).abs() < 1e-14);
        assert!(log_gamma(1.0).abs() < 1e-14);
    }

    // Beta(1, 1) is even, Beta(2, 1) has I_x = x², Beta(1/2, 1/2) has its quantile at sin²(πp/2): elementary.
    #[test]
    fn quantiles_of_simple_shapes_are_exact() {
        for p in [0.001, 0.05, 0.3, 0.5, 0.95, 0.999] {
            assert!((quantile(1.0, 1.0, p) - p).abs() < 1e-13, "{p}");
            assert!((quantile(2.0, 1.0, p) - p.sqrt()).abs() < 1e-13, "{p}");
            let arcsine = (std::f64::consts::FRAC_PI_2 * p).sin().powi(2);
            assert!((quantile(0.5, 0.5, p) - arcsine).abs() < 1e-12, "{p}");
        }
    }

    #[test]
    fn large_counts_still_converge_and_mirror() {
        let (a, b) = (98_765.5, 1_234.5);
        let median = quantile(a, b, 0.5);
        assert!((median - a / (a + b)).abs() < 1e-4);
        assert!((quantile(b, a, 0.5) - (1.0 - median)).abs() < 1e-12);
    }
}
