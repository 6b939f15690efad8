//! The demo pictures, a tray, pictures that have to be taken again, and the strip.

use borespoke_core::record::PlugSign;
use borespoke_photo::{
    Fault, Hints, Light, Pattern, PictureError, PlugPicture, StripPlug, WhyNot, compare,
    likely_signs, read_plug, read_tray, strip,
};
use borespoke_plugs::plug::Plug;
use borespoke_plugs::scene::Scene;
use borespoke_plugs::sets;

const DEMO: [&[u8]; 6] = [
    include_bytes!("../../../demo-data/plugs/plug-1.jpg"),
    include_bytes!("../../../demo-data/plugs/plug-2.jpg"),
    include_bytes!("../../../demo-data/plugs/plug-3.jpg"),
    include_bytes!("../../../demo-data/plugs/plug-4.jpg"),
    include_bytes!("../../../demo-data/plugs/plug-5.jpg"),
    include_bytes!("../../../demo-data/plugs/plug-6.jpg"),
];

fn read(bytes: &[u8]) -> PlugPicture {
    read_plug(bytes, &Hints::default()).unwrap()
}

fn best(picture: &PlugPicture) -> PlugSign {
    let signs = likely_signs(picture);
    signs.iter().max_by(|a, b| a.likelihood.total_cmp(&b.likelihood)).unwrap().sign
}

#[test]
fn the_demo_names_cylinders_3_and_5_and_what_they_look_like() {
    let pictures = DEMO.map(read);
    let comparison = compare(&pictures);
    assert_eq!(comparison.comparable(), Ok(()));
    assert_eq!(comparison.pattern, Some(Pattern::SomeOdd));
    let mut odd: Vec<usize> = comparison.odd.iter().map(|odd| odd.place + 1).collect();
    odd.sort_unstable();
    assert_eq!(odd, [3, 5]);
    assert_eq!(comparison.pairs.len(), 15);
    let signs = pictures.each_ref().map(best);
    assert_eq!(signs[2], PlugSign::OilWet);
    assert_eq!(signs[4], PlugSign::DryCarbon);
    for place in [0, 1, 3, 5] {
        assert_eq!(signs[place], PlugSign::Normal, "cylinder {}", place + 1);
    }
}

#[test]
fn results_survive_json() {
    let picture = read(DEMO[0]);
    let text = serde_json::to_string(&picture).unwrap();
    let back: PlugPicture = serde_json::from_str(&text).unwrap();
    assert_eq!(serde_json::to_string(&back).unwrap(), text);
}

#[test]
fn the_strip_shows_every_cylinder() {
    let pictures = DEMO.map(read);
    let plugs: Vec<StripPlug<'_>> = pictures
        .iter()
        .zip(DEMO)
        .zip(1..)
        .map(|((picture, bytes), cylinder)| StripPlug { bytes, picture, cylinder, words: "a look" })
        .collect();
    let png = strip(&plugs).unwrap();
    let picture = image::load_from_memory(&png).unwrap().into_rgb8();
    assert_eq!(picture.dimensions(), (6 * 328 - 8, 396));
    // Balanced alike, the rims of two plugs come out alike: sampled above the bore's middle.
    let rim = |cell: u32| picture.get_pixel(cell * 328 + 160, 160 - 100).0.map(i32::from);
    for (one, other) in rim(0).into_iter().zip(rim(1)) {
        assert!((one - other).abs() < 60, "{:?} {:?}", rim(0), rim(1));
    }
    assert!(strip(&[]).is_err());
}

/// Six plugs on a tray, the fifth as black as soot.
fn tray() -> Scene {
    let base = sets::set(1).scenes[0].clone();
    let plugs = (0..6u16)
        .map(|place| {
            let mut plug: Plug = base.plugs[0];
            plug.x = 330.0 + 330.0 * f32::from(place % 3);
            plug.y = 230.0 + 400.0 * f32::from(place / 3);
            plug.scale = 10.0;
            plug.tilt = 0.1;
            plug.strap = f32::from(place);
            plug.seed += u32::from(place);
            if place == 4 {
                plug.deposit.colour.l = 15.0;
                plug.deposit.colour.b = 1.0;
            }
            plug
        })
        .collect();
    let sheet = base.sheet.map(|mut sheet| {
        (sheet.x, sheet.y) = (90.0, 420.0);
        sheet
    });
    Scene { width: 1200, height: 860, plugs, sheet, ..base }
}

#[test]
fn a_tray_is_split_in_cylinder_order() {
    let scene = tray();
    let pictures = read_tray(&scene.jpeg(), &Hints::default(), 6).unwrap();
    for (picture, plug) in pictures.iter().zip(&scene.plugs) {
        let overlap = borespoke_plugs::evaluate::overlap(&picture.insulator, plug);
        assert!(overlap > 0.6, "{overlap}");
    }
    let comparison = compare(&pictures);
    assert_eq!(comparison.odd.iter().map(|odd| odd.place).collect::<Vec<_>>(), [4]);
}

#[test]
fn a_tray_with_a_plug_missing_says_so() {
    let mut scene = tray();
    scene.plugs.truncate(5);
    assert_eq!(
        read_tray(&scene.jpeg(), &Hints::default(), 6),
        Err(PictureError::PlugsMissing { found: 5, wanted: 6 })
    );
}

#[test]
fn a_picture_without_a_plug_says_so() {
    let mut scene = sets::set(1).scenes.remove(0);
    scene.plugs.clear();
    let refusal = read_plug(&scene.jpeg(), &Hints::default()).unwrap_err();
    assert_eq!(refusal, PictureError::PlugNotFound);
}

/// A set that is in order, with one picture changed.
fn with(change: impl FnOnce(&mut Scene)) -> (PlugPicture, WhyNot) {
    let mut scenes = sets::set(1).scenes;
    scenes.truncate(3);
    change(&mut scenes[1]);
    let pictures: Vec<PlugPicture> = scenes.iter().map(|scene| read(&scene.jpeg())).collect();
    let why = compare(&pictures).comparable().unwrap_err();
    (pictures[1].clone(), why)
}

#[test]
fn a_blurred_picture_has_to_be_taken_again() {
    let (picture, why) = with(|scene| scene.camera.blur = 8.0);
    assert_eq!(picture.faults, [Fault::Blurred]);
    assert_eq!(why, WhyNot::TakeAgain { place: 1, fault: Fault::Blurred });
}

#[test]
fn a_dark_picture_has_to_be_taken_again() {
    let (picture, _) = with(|scene| {
        scene.lighting.colour = scene.lighting.colour.map(|value| value * 0.09);
    });
    assert!(picture.faults.contains(&Fault::TooDark), "{:?}", picture.faults);
}

#[test]
fn a_burnt_out_picture_has_to_be_taken_again() {
    let (picture, _) = with(|scene| {
        scene.lighting.colour = scene.lighting.colour.map(|value| value * 3.0);
    });
    let burnt = |fault: &Fault| matches!(fault, Fault::Clipped { .. } | Fault::ReferenceClipped);
    assert!(picture.faults.iter().any(burnt), "{:?}", picture.faults);
}

#[test]
fn without_a_reference_nothing_is_compared_or_read_into_it() {
    let (picture, why) = with(|scene| scene.sheet = None);
    assert_eq!(picture.light, Light::Unknown);
    assert_eq!(why, WhyNot::NoReference { place: 1 });
    assert!(!picture.figures().balanced);
    assert!(likely_signs(&picture).is_empty());
}
