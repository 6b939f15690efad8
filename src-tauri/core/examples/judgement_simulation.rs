//! Prints how the judgement fares on simulated engines: `judgement_simulation [ENGINES] [FIRST SEED]`.

#[path = "../tests/judgement/random_cases.rs"]
#[allow(dead_code, reason = "shared with the tests, which use all of it")]
mod random_cases;
#[path = "../tests/judgement/simulated.rs"]
#[allow(dead_code, reason = "shared with the tests, which use all of it")]
mod simulated;
#[path = "../tests/judgement/support.rs"]
#[allow(dead_code, reason = "shared with the tests, which use all of it")]
mod support;

use simulated::{Score, Simulated};

fn print(name: &str, score: &Score) {
    let of = |count: u32, whole: u32| 100.0 * f64::from(count) / f64::from(whole);
    println!("{name}");
    println!(
        "  top-1 {:.1} %  top-2 {:.1} %  (faulty {}, right cylinder {:.1} %; sound {}, left alone {:.1} %)",
        of(score.top1, score.engines),
        of(score.top2, score.engines),
        score.faulty,
        of(score.cylinder, score.faulty),
        score.sound,
        of(score.sound_right, score.sound),
    );
    println!(
        "  minutes per engine {:.1}, calibration error {:.3}",
        score.minutes / f64::from(score.engines),
        score.calibration_error()
    );
    for (tenth, (said, true_, sum)) in score.bins.iter().enumerate() {
        if *said > 0 {
            let stated = 100.0 * sum / f64::from(*said);
            println!(
                "    {tenth}0 % up: {said} findings, stated {stated:.1} %, true {:.1} %",
                of(*true_, *said)
            );
        }
    }
    let mut misses: Vec<_> = score.misses.iter().collect();
    misses.sort_by_key(|miss| std::cmp::Reverse(miss.1));
    for ((fault, said), count) in misses.into_iter().take(15) {
        println!("    {count:4} {fault}: said {said}");
    }
}

fn main() {
    let mut arguments = std::env::args().skip(1).filter_map(|a| a.parse::<u64>().ok());
    let engines = arguments.next().unwrap_or(2000);
    let first = arguments.next().unwrap_or(0);
    let (mut everything, mut followed) = (Score::default(), Score::default());
    for seed in first..first + engines {
        let mut engine = Simulated::new(seed);
        let judgement = engine.test_everything();
        everything.take(&engine, &judgement);
        let mut engine = Simulated::new(seed);
        let judgement = engine.follow_next_steps();
        followed.take(&engine, &judgement);
    }
    print("every test on every cylinder", &everything);
    print("following the next step", &followed);
    let saved = 100.0 * (1.0 - followed.minutes / everything.minutes);
    println!("time saved {saved:.1} %");
}
