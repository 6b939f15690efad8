//! How well the photo crate does on the rendered sets.

use borespoke_photo::{
    Comparison, Hints, Neutral, PictureError, PlugPicture, Reference, Region, compare, read_plug,
};

use crate::plug::Plug;
use crate::scene::Scene;
use crate::sets::{self, Kind, Set};

/// Counts over sets.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub struct Tally {
    /// Pictures looked at.
    pub pictures: usize,
    /// Pictures whose insulator was found with an overlap of 0.7 or more.
    pub found: usize,
    /// Pictures in which something else was taken for the insulator.
    pub mistaken: usize,
    /// Sets with an odd one.
    pub odd_sets: usize,
    /// Of these, sets in which it was named.
    pub named: usize,
    /// Of these, sets in which only it was named.
    pub named_alone: usize,
    /// Uniform sets.
    pub uniform_sets: usize,
    /// Of these, sets in which one was called odd.
    pub false_alarms: usize,
    /// Sets in one light that were refused.
    pub refused_wrongly: usize,
    /// Sets in mixed light.
    pub mixed_sets: usize,
    /// Of these, sets refused.
    pub refused: usize,
}

/// How the reference is made known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pointing {
    /// The user points at it.
    Given,
    /// It has to be found.
    Found,
}

/// Looks at sets `first` to `last`.
#[must_use]
pub fn evaluate(numbers: impl Iterator<Item = u64>, pointing: Pointing, talk: bool) -> Tally {
    let mut tally = Tally::default();
    for number in numbers {
        let set = sets::set(number);
        let comparison = look_at(&set, pointing, &mut tally, talk.then_some(number));
        judge(&set, &comparison, &mut tally, talk.then_some(number));
    }
    tally
}

fn look_at(
    set: &Set,
    pointing: Pointing,
    tally: &mut Tally,
    talk: Option<u64>,
) -> Result<Comparison, PictureError> {
    let mut pictures = Vec::new();
    let mut failure = None;
    for (place, scene) in set.scenes.iter().enumerate() {
        tally.pictures += 1;
        match read(scene, pointing) {
            Ok(picture) => {
                let overlap = overlap(&picture.insulator, &scene.plugs[0]);
                if overlap >= 0.7 {
                    tally.found += 1;
                } else {
                    tally.mistaken += 1;
                }
                if let Some(number) = talk {
                    println!(
                        "{number}.{place} overlap {overlap:.2} confidence {:.2} off {:.1} true {:.1?} seen {:.1?} spread {:.1} {:?} {:?} {:?} mix {:.1?}",
                        picture.confidence.unwrap_or(1.0),
                        borespoke_photo::colour::difference(
                            scene.plugs[0].deposit.colour,
                            picture.colour
                        ),
                        scene.plugs[0].deposit.colour,
                        picture.colour,
                        picture.spread,
                        scene.bench,
                        picture.light,
                        picture.faults,
                        picture.mixing,
                    );
                }
                pictures.push(picture);
            }
            Err(error) => {
                if let Some(number) = talk {
                    println!("{number}.{place} {error} {:?}", scene.bench);
                }
                failure = Some(error);
            }
        }
    }
    failure.map_or_else(|| Ok(compare(&pictures)), Err)
}

fn read(scene: &Scene, pointing: Pointing) -> Result<PlugPicture, PictureError> {
    let reference = match (pointing, scene.sheet) {
        (Pointing::Given, Some(sheet)) => Some(Reference {
            region: Region::Rectangle {
                x: f64::from(sheet.x - sheet.half_width * 0.6),
                y: f64::from(sheet.y - sheet.half_height * 0.6),
                width: f64::from(sheet.half_width * 1.2),
                height: f64::from(sheet.half_height * 1.2),
            },
            neutral: if sheet.reflectance < 0.5 { Neutral::GreyCard } else { Neutral::WhitePaper },
        }),
        _ => None,
    };
    read_plug(&scene.jpeg(), &Hints { insulator: None, reference })
}

fn judge(
    set: &Set,
    comparison: &Result<Comparison, PictureError>,
    tally: &mut Tally,
    talk: Option<u64>,
) {
    let refused = comparison.as_ref().map_or(true, |c| c.comparable().is_err());
    let odd: Vec<usize> =
        comparison.as_ref().map_or(Vec::new(), |c| c.odd.iter().map(|odd| odd.place).collect());
    if let Some(number) = talk {
        println!(
            "set {number} {:?} odd {:?} by {:.1}: refused {refused}, named {odd:?} {:?}",
            set.kind,
            set.odd,
            set.difference,
            comparison.as_ref().ok().and_then(|c| c.not_comparable)
        );
    }
    match set.kind {
        Kind::OneOdd => {
            tally.odd_sets += 1;
            tally.named += usize::from(set.odd.is_some_and(|place| odd.contains(&place)));
            tally.named_alone += usize::from(set.odd.is_some_and(|place| odd == [place]));
            tally.refused_wrongly += usize::from(refused);
        }
        Kind::Uniform => {
            tally.uniform_sets += 1;
            tally.false_alarms += usize::from(!odd.is_empty());
            tally.refused_wrongly += usize::from(refused);
        }
        Kind::MixedLight => {
            tally.mixed_sets += 1;
            tally.refused += usize::from(refused);
        }
    }
}

/// Area in common over area in all, of the found region and the true outline.
#[must_use]
pub fn overlap(found: &Region, plug: &Plug) -> f64 {
    let (x, y, long, short, turn) = plug.nose_ellipse();
    let truth = Region::Ellipse { x, y, long, short, turn };
    let (a, b) = (truth.bounds(), found.bounds());
    let (mut both, mut either) = (0.0, 0.0);
    let step = long / 40.0;
    let (left, top) = (a[0].min(b[0]), a[1].min(b[1]));
    let columns = ((a[2].max(b[2]) - left) / step).ceil().min(2000.0) as usize;
    let rows = ((a[3].max(b[3]) - top) / step).ceil().min(2000.0) as usize;
    for row in 0..=rows {
        for column in 0..=columns {
            let (px, py) = (left + column as f64 * step, top + row as f64 * step);
            let (one, other) = (truth.contains(px, py), found.contains(px, py));
            both += f64::from(u8::from(one && other));
            either += f64::from(u8::from(one || other));
        }
    }
    both / either
}
