//! From the job and the entries in force to numbers on the model's scales, per cylinder.

use super::model::Scatter;
use super::scale::{LEAST_LEAK, MOST_LEAK, leak_area, ln_pressure};
use crate::engine::Cylinder;
use crate::expectation::pressure_at_altitude;
use crate::flow::{Air, LeakDownSet};
use crate::job::Job;
use crate::quantity::{
    GaugePressure, LeakPercent, Length, LengthUnit, PressureUnit, StatedPressure,
};
use crate::record::{
    AirExit, Bore, Cranking, EntryId, Lab, LeakDown, LeakReading, Log, Look, Observation, PlugSign,
    Stated, Stroke, Valves,
};
use crate::tester::TesterKind;

/// A plug whose colour is this far (CIELAB distance) from the middle of the set stands out. Ours:
/// no published limit exists.
const ODD_DISTANCE: f64 = 15.0;
/// A set of fewer plugs has no odd one.
const SET: usize = 3;

/// The set the model's leak-down figures are stated for: the 0.040 in restrictor and 80 psi of AC
/// 43.13-1B CHG 1 (bores under 5 in) and of the Lycoming IO-390-D manual 72-30 p. 193.
const REFERENCE_RESTRICTOR: Length = Length::new(40.0, LengthUnit::Thou);
const REFERENCE_SUPPLY: GaugePressure = GaugePressure::new(80.0, PressureUnit::Psi);

/// One entry that says something about a cylinder.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Said {
    pub id: EntryId,
    pub says: String,
}

/// A cranking pressure: natural logarithm of pascals and its standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CrankRead {
    pub entry: usize,
    pub wet: bool,
    /// Strokes after which it was read; `None` is at rest.
    pub stroke: Option<u8>,
    pub ln: f64,
    pub sd: f64,
}

/// A leak-down: natural logarithm of the area ratio and its standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LeakRead {
    pub entry: usize,
    pub tapped: bool,
    /// Read again after an earlier one, so after turning the crank and coming up afresh.
    pub again: bool,
    pub ln: f64,
    pub sd: f64,
}

/// A plug that stands out from its set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tone {
    Like,
    Darker,
    Lighter,
}

/// What is known about one cylinder. `entry` fields index `said`.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct CylinderEvidence {
    pub said: Vec<Said>,
    pub crank: Vec<CrankRead>,
    pub leak: Vec<LeakRead>,
    pub air: Vec<(usize, AirExit)>,
    pub signs: Vec<(usize, PlugSign)>,
    pub tone: Option<(usize, Tone)>,
    colour: Option<(usize, Lab)>,
    looked: bool,
    /// Whether a remark says that a borescope was used.
    pub scoped: bool,
}

impl CylinderEvidence {
    pub fn dry_read(&self) -> bool {
        self.crank.iter().any(|read| !read.wet && read.stroke.is_none())
    }

    pub fn wet_read(&self) -> bool {
        self.crank.iter().any(|read| read.wet)
    }

    pub fn plug_seen(&self) -> bool {
        self.looked
    }

    pub fn leak_found(&self) -> bool {
        self.leak.iter().any(|read| !read.tapped)
    }
}

/// What is known about the engine.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Evidence {
    /// By cylinder index.
    pub cylinders: Vec<CylinderEvidence>,
    /// Signs that most plugs of the set carry: they speak of mixture, heat or oil, not of one
    /// cylinder.
    pub whole_set: Vec<PlugSign>,
}

impl Evidence {
    pub fn gather(job: &Job, log: &Log, scatter: &Scatter) -> Self {
        let mut cylinders = vec![CylinderEvidence::default(); job.engine.cylinder_count()];
        for (entry, observation) in log.in_force() {
            let Some(cylinder) = observation.cylinder() else { continue };
            let Some(place) = cylinders.get_mut(cylinder.index()) else { continue };
            place.take_in(entry.id, observation, job, scatter);
        }
        let whole_set = set_wide_signs(&cylinders);
        for cylinder in &mut cylinders {
            cylinder.signs.retain(|(_, sign)| !whole_set.contains(sign));
        }
        tell_odd_ones(&mut cylinders);
        Self { cylinders, whole_set }
    }

    pub fn of(&self, cylinder: Cylinder) -> &CylinderEvidence {
        &self.cylinders[cylinder.index()]
    }
}

impl CylinderEvidence {
    fn take_in(&mut self, id: EntryId, observation: &Observation, job: &Job, scatter: &Scatter) {
        let entry = self.said.len();
        let says = match observation {
            Observation::Cranking(read) => {
                self.crank.push(crank_read(entry, read, job, scatter));
                cranking_in_words(read)
            }
            Observation::LeakDown(read) => {
                self.add_leak(entry, read, job, scatter);
                leak_in_words(read)
            }
            Observation::Listening(heard) => {
                self.air.push((entry, heard.at));
                match heard.at {
                    AirExit::Nowhere => "no air heard anywhere".to_owned(),
                    at => format!("air heard at the {at}"),
                }
            }
            Observation::Look(look) => {
                self.add_look(entry, look);
                look_in_words(look)
            }
            Observation::Remark(remark) => {
                let text = remark.text.to_lowercase();
                self.scoped |= text.contains("borescope") || text.contains("endoscope");
                return;
            }
            Observation::Borescope(_) => {
                self.scoped = true;
                return;
            }
            Observation::Gap(_) => return,
        };
        self.said.push(Said { id, says });
    }

    fn add_leak(&mut self, entry: usize, read: &LeakDown, job: &Job, scatter: &Scatter) {
        let tapped = read.valves == Valves::Tapped;
        let (low, high, about) = match read.reading {
            LeakReading::Percent { leak } => {
                let low = leak.value.percent();
                (low, leak.up_to.map_or(low, LeakPercent::percent), leak.about)
            }
            LeakReading::Pressures { supply, cylinder_side } => {
                let (before, behind) = (supply.gauge().pascals(), cylinder_side.gauge().pascals());
                let percent = if before > 0.0 { 100.0 * (1.0 - behind / before) } else { 100.0 };
                (percent, percent, false)
            }
        };
        let ln_area = |percent| leak_area(on_reference_set(percent, read, job)).ln();
        let (ln, half) = middle(ln_area(low), ln_area(high));
        let sd = widened(scatter.leak, half, if about { 4.0 * scatter.about } else { 0.0 });
        let again = !tapped && self.leak_found();
        self.leak.push(LeakRead { entry, tapped, again, ln, sd });
    }

    fn add_look(&mut self, entry: usize, look: &Look) {
        self.looked = true;
        self.signs.extend(look.signs.iter().map(|&sign| (entry, sign)));
        if let Some(figures) = look.figures.filter(|figures| figures.balanced) {
            self.colour = Some((entry, figures.colour));
        }
    }
}

/// What the reference set would show, when the set that was used is known well enough: its
/// restrictor and supply. Otherwise the reading as it is, which takes the set for the reference.
fn on_reference_set(percent: f64, read: &LeakDown, job: &Job) -> f64 {
    let mut sets =
        job.testers.iter().filter(|tester| matches!(tester.kind, TesterKind::LeakDownSet { .. }));
    let tester = match &read.tester {
        Some(name) => sets.find(|tester| tester.name == *name),
        None => sets.next().filter(|_| sets.next().is_none()),
    };
    let supply = match read.reading {
        LeakReading::Pressures { supply, .. } => Some(supply.gauge()),
        LeakReading::Percent { .. } => None,
    };
    let ambient = job
        .conditions
        .barometer
        .or_else(|| pressure_at_altitude(job.conditions.altitude?).ok())
        .and_then(|ambient| Air::new(ambient, Air::STANDARD.temperature()).ok())
        .unwrap_or(Air::STANDARD);
    let shown = || {
        let set = LeakDownSet::of(tester?, supply).ok()?;
        let percent = LeakPercent::new(percent.clamp(LEAST_LEAK, MOST_LEAK)).ok()?;
        let leak = set.leak_at_loss(percent, ambient).ok()?;
        let reference = LeakDownSet::new(REFERENCE_RESTRICTOR, REFERENCE_SUPPLY).ok()?;
        Some(reference.reading(leak.area, Air::STANDARD).ok()?.loss.percent())
    };
    shown().unwrap_or(percent)
}

fn crank_read(entry: usize, read: &Cranking, job: &Job, scatter: &Scatter) -> CrankRead {
    let Stated { value, up_to, about } = read.pressure;
    let pascals = |stated: StatedPressure| stated.gauge().pascals();
    let low = pascals(value);
    let (ln, half) = middle(ln_pressure(low), ln_pressure(up_to.map_or(low, pascals)));
    let marks = job
        .testers
        .iter()
        .find(|tester| Some(&tester.name) == read.tester.as_ref())
        .and_then(|tester| match tester.kind {
            TesterKind::CrankingGauge { resolution } => resolution,
            TesterKind::LeakDownSet { .. } => None,
        })
        .map_or(0.0, |marks| pascals(marks) / ln.exp() / 12.0_f64.sqrt());
    let stroke = match read.stroke {
        Stroke::Final => None,
        Stroke::After(strokes) => Some(strokes.get()),
    };
    let about = if about { scatter.about } else { 0.0 };
    let moving = if stroke.is_some() { scatter.stroke } else { 0.0 };
    let sd = widened(scatter.cranking, half, about.hypot(moving).hypot(marks));
    CrankRead { entry, wet: read.bore == Bore::Wet, stroke, ln, sd }
}

/// Middle and half width of a range.
fn middle(low: f64, high: f64) -> (f64, f64) {
    (f64::midpoint(low, high), (high - low).abs() / 2.0)
}

/// A reading's own scatter, widened by a range it was given as (even over its width) and by more.
fn widened(own: f64, half_width: f64, more: f64) -> f64 {
    own.hypot(half_width / 3.0_f64.sqrt()).hypot(more)
}

/// Signs on more than half of at least three plugs. US Army TM 10-3930-633-12 table 4-3: soot on
/// one or two plugs speaks of valves or leads, on the whole set of air cleaner, heat or choke.
fn set_wide_signs(cylinders: &[CylinderEvidence]) -> Vec<PlugSign> {
    let looked = cylinders.iter().filter(|cylinder| !cylinder.signs.is_empty()).count();
    if looked < SET {
        return Vec::new();
    }
    PlugSign::ALL
        .into_iter()
        .filter(|&sign| {
            let carrying =
                cylinders.iter().filter(|c| c.signs.iter().any(|&(_, s)| s == sign)).count();
            sign != PlugSign::Normal && 2 * carrying > looked
        })
        .collect()
}

/// Compares every white-balanced plug with the middle of the set.
fn tell_odd_ones(cylinders: &mut [CylinderEvidence]) {
    let colours: Vec<Lab> =
        cylinders.iter().filter_map(|c| c.colour.map(|(_, colour)| colour)).collect();
    if colours.len() < SET {
        return;
    }
    let median = |part: fn(&Lab) -> f64| {
        let mut values: Vec<f64> = colours.iter().map(part).collect();
        values.sort_by(f64::total_cmp);
        f64::midpoint(values[(values.len() - 1) / 2], values[values.len() / 2])
    };
    let (l, a, b) = (median(|c| c.l), median(|c| c.a), median(|c| c.b));
    for cylinder in cylinders {
        cylinder.tone = cylinder.colour.map(|(entry, colour)| {
            let apart = (colour.l - l).hypot(colour.a - a).hypot(colour.b - b);
            let tone = match (apart >= ODD_DISTANCE, colour.l < l) {
                (false, _) => Tone::Like,
                (true, true) => Tone::Darker,
                (true, false) => Tone::Lighter,
            };
            (entry, tone)
        });
    }
}

fn stated_in_words<Q: std::fmt::Display>(stated: &Stated<Q>) -> String {
    let about = if stated.about { "about " } else { "" };
    match &stated.up_to {
        Some(up) => format!("{about}{} to {up}", stated.value),
        None => format!("{about}{}", stated.value),
    }
}

fn cranking_in_words(read: &Cranking) -> String {
    let bore = match read.bore {
        Bore::Dry => "dry",
        Bore::Wet => "with oil",
    };
    let stroke = match read.stroke {
        Stroke::Final => String::new(),
        Stroke::After(strokes) => format!(" after {strokes} strokes"),
    };
    format!("cranking pressure {bore} {}{stroke}", stated_in_words(&read.pressure))
}

fn leak_in_words(read: &LeakDown) -> String {
    let tapped = if read.valves == Valves::Tapped { " after tapping the valves" } else { "" };
    match &read.reading {
        LeakReading::Percent { leak } => format!("leak-down {}{tapped}", stated_in_words(leak)),
        LeakReading::Pressures { supply, cylinder_side } => {
            format!("leak-down {cylinder_side} of {supply}{tapped}")
        }
    }
}

fn look_in_words(look: &Look) -> String {
    if look.signs.is_empty() {
        return "the plug's colour".to_owned();
    }
    let signs: Vec<&str> = look.signs.iter().map(|sign| sign.name()).collect();
    format!("plug {}", signs.join(", "))
}
