//! When an action is done, and under which key.

use chrono::NaiveDateTime;

/// An action's own id: carrying out the same key twice does it once, so that an action whose commit was in doubt after
/// a crash can be repeated safely.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ActionKey(pub u128);

impl ActionKey {
    /// A new key.
    pub fn fresh() -> Self {
        Self(uuid::Uuid::new_v4().as_u128())
    }
}

/// When an action is done, and under which key; both come from the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Order {
    /// Its key.
    pub key: ActionKey,
    /// Local date and time.
    pub at: NaiveDateTime,
}
