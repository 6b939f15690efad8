//! What a leak-down tester measures: two restrictors in series.
//!
//! Air at the supply pressure passes the tester's restrictor into the cylinder and leaves through
//! the leak. The pressure between the two says how large the leak is against the restrictor. The
//! percentage alone says little: the same cylinder gives another percentage on another restrictor,
//! so readings on different testers are compared through the effective leak area.
//!
//! The flow through each is that of de Saint-Venant and Wantzel for an ideal gas, with the flow at
//! the speed of sound ("choked") where the pressure ratio is low. Both restrictors are taken to have
//! the same discharge coefficient and the air the same temperature before each; the ratio of the
//! areas then depends on the pressures alone.

mod air;
mod error_bars;
mod leak;
mod nozzle;
mod set;

pub use air::Air;
pub(crate) use air::GAS_CONSTANT;
pub use error_bars::{GaugeError, LeakBars, PercentError};
pub use leak::{EffectiveLeak, FlowError, HeldPressure};
pub use nozzle::{CRITICAL_PRESSURE_RATIO, mass_flow};
pub use set::LeakDownSet;
