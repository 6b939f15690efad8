//! The six pictures of the invented six-cylinder case.

use borespoke_core::record::Lab;

use crate::camera::Camera;
use crate::label;
use crate::light::{Lighting, lamp, through_phone};
use crate::plug::{Deposit, Plug};
use crate::scene::{Bench, Scene, Sheet};

const TAN: Deposit =
    Deposit { colour: Lab { l: 66.0, a: 5.0, b: 18.0 }, mottle: 0.12, soot: 0.0, wet: 0.0 };

/// The JPEG of each cylinder's plug, cylinder 1 first: 3 wet with oil, 5 black with dry soot, the
/// others light tan.
#[must_use]
pub fn pictures() -> Vec<Vec<u8>> {
    (1u8..=6).map(picture).collect()
}

fn picture(cylinder: u8) -> Vec<u8> {
    let deposit = match cylinder {
        3 => Deposit { colour: Lab { l: 24.0, a: 4.0, b: 7.0 }, mottle: 0.2, soot: 0.1, wet: 0.9 },
        5 => Deposit { colour: Lab { l: 15.0, a: 0.5, b: 1.0 }, mottle: 0.3, soot: 0.5, wet: 0.0 },
        _ => {
            // The good ones differ a little, as good ones do.
            let step = f64::from(cylinder % 3) - 1.0;
            Deposit { colour: Lab { l: 66.0 + step, a: 5.0, b: 18.0 + step }, ..TAN }
        }
    };
    let n = f32::from(cylinder);
    let scale = 40.0;
    let scene = Scene {
        width: 1600,
        height: 1200,
        bench: Bench::Wood,
        scale: 12.0,
        plugs: vec![Plug {
            x: 1060.0 + 14.0 * (n * 2.0).sin(),
            y: 600.0 + 16.0 * (n * 3.0).cos(),
            scale,
            tilt: 0.10 + 0.03 * n,
            lean: n * 1.1,
            strap: 2.2 + 0.3 * n,
            nose: 3.1,
            bore: 4.8,
            metal: if cylinder == 5 { 0.4 } else { 0.9 },
            film: 0.4,
            deposit,
            seed: 100 + u32::from(cylinder),
        }],
        sheet: Some(Sheet {
            x: 235.0,
            y: 560.0,
            half_width: 190.0,
            half_height: 300.0,
            turn: 0.03 * n - 0.1,
            reflectance: 0.18,
        }),
        lighting: Lighting {
            colour: through_phone(lamp(4000.0 + 150.0 * f64::from(cylinder)), 0.5)
                .map(|v| v * (0.72 + 0.03 * n)),
            second: None,
            from: 0.4,
            falloff: 0.05,
        },
        camera: Camera { blur: 0.9, noise: 0.006, quality: 88 },
        seed: 40 + u32::from(cylinder),
    };
    let mut picture = scene.render();
    label::write(&mut picture, "rendered, invented: not a photograph", 24, 1140, 36.0);
    scene.camera.jpeg(&picture)
}
