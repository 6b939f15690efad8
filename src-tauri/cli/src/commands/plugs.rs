//! `plugs`

use borespoke_bench::plugs;

use crate::arguments::Plugs;
use crate::failure::Failure;
use crate::output::{self, Output};

pub fn run(arguments: &Plugs, output: &mut Output) -> Result<(), Failure> {
    let seen = plugs::plugs(&arguments.pictures, arguments.reference);
    if output.is_json() {
        for picture in &seen.pictures {
            output.line(picture)?;
        }
        output.line(&seen.comparison)?;
    } else {
        let mut table = output::table(&["Picture", "L*", "a*", "b*", "Spread", "Light"]);
        for line in &seen.pictures {
            let colour = line.read.colour;
            let light = line.read.light.neutral().map_or("unknown", |_| "measured");
            table.add_row([
                line.picture.clone(),
                format!("{:.1}", colour.l),
                format!("{:.1}", colour.a),
                format!("{:.1}", colour.b),
                format!("{:.1}", line.read.spread),
                light.to_owned(),
            ]);
        }
        output.text(&table.to_string())?;
        if let Some(why_not) = &seen.comparison.why_not {
            output.text(&format!("Not compared: {why_not}."))?;
        } else if seen.comparison.odd.is_empty() {
            output.text("No plug differs from the others.")?;
        }
        for odd in &seen.comparison.odd {
            output.text(&format!(
                "{} differs from the others by {:.1} (CIEDE2000).",
                odd.picture, odd.ciede2000
            ))?;
        }
    }
    let count = seen.refused.len();
    for error in &seen.refused {
        Failure::from(error).tell();
    }
    if count > 0 { Err(Failure::Partly { count }) } else { Ok(()) }
}
