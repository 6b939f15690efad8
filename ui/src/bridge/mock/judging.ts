import type { ContributionView, EntryView, JudgementView } from '../types';

/** The judgement of the invented six-cylinder job: what `borespoke findings` says of the case in
 * `demo-data`, written down. */

const VALVE =
  'No rise with oil: US Army TM 5-4210-230-14&P-1, Ford 1996 03-00. Low first stroke, does not climb: GM Solstice 2006, Ford Probe 1997. Air at the exhaust: AOPA 2016, Mazda B2300 2008. Numbers: common practice, no source.';
const RINGS =
  'Oil raises it, low first stroke then climbs: GM Solstice 2006 and Ford Probe 1997 service manuals; US Army TM 5-4210-230-14&P-1. Air at the oil filler or breather: AOPA 2016, Mazda B2300 2008. Numbers: common practice, no source.';
const TOP =
  'Open it up from the top: valve lash and valve gear first, then the head. Do it before the next long run.';
const BOTTOM =
  'Open it up: the fault is below the head (rings, bore or piston). Plan the work soon; running on wears it further.';

export function judgementOf(job: string, revision: number, log: readonly EntryView[]): JudgementView {
  const none: JudgementView = {
    job,
    entries: log.length,
    revision,
    findings: [],
    next_steps: [],
    settled: null,
    conflicts: [],
    not_tested: log.length === 0 ? [] : ['Wet cranking pressure: not done on cylinder 1, 2, 4, 6.', 'Listening for air: not done on cylinder 1, 2, 4, 6.'],
    advice: [],
  };
  if (log.length === 0) return none;
  const step = {
    next_step: 'Look into the cylinder with a borescope: bore, crown and valve edges of cylinder 3.',
    cylinder: 3,
    bits: 0.64,
    minutes: 8,
    changes_advice: 0.156,
    settles: 'What can be seen: scores, holes, burnt edges, deposits.',
  };
  const tap = {
    next_step:
      'Air off, piston away from top dead centre, tap over the valve stems, then read the leak-down again on cylinder 5.',
    cylinder: 5,
    bits: 0.18,
    minutes: 3,
    changes_advice: 0.052,
    settles: 'Whether something only lies on a valve seat.',
  };
  if (!log.some((entry) => entry.entry?.cylinder === 5 && entry.entry.at === 'exhaust')) {
    return { ...none, next_steps: [step, tap] };
  }
  const weigh = (cylinder: number, list: [string, string, number][]): ContributionView[] =>
    list.map(([entry, says, log_odds]) => ({ entry, cylinder, says, log_odds }));
  return {
    ...none,
    findings: [
      {
        cause: 'burnt or leaking exhaust valve',
        plain: 'The exhaust valve does not seal on its seat.',
        cylinders: [5],
        probability: 0.827,
        prior: 0.0198,
        for: weigh(5, [['e17', 'air heard at the exhaust', 2.22], ['e14', 'cranking pressure with oil 65 psi', 1.79], ['e11', 'cranking pressure dry 60 psi', 1.58], ['e16', 'leak-down 62 %', 1.25], ['e5', 'plug dry soot', 0.18]]),
        against: [],
        source: VALVE,
        advice: TOP,
      },
      {
        cause: 'worn or stuck rings',
        plain: 'The piston rings no longer seal against the cylinder wall.',
        cylinders: [3],
        probability: 0.791,
        prior: 0.0298,
        for: weigh(3, [['e9', 'cranking pressure dry 105 psi', 1.76], ['e3', 'plug wet with oil', 1.44], ['e18', 'leak-down 27 % to 28 %', 0.86], ['e19', 'air heard at the oil filler', 0.56]]),
        against: weigh(3, [['e13', 'cranking pressure with oil 140 psi', 0.16]]),
        source: RINGS,
        advice: BOTTOM,
      },
      {
        cause: 'scored bore',
        plain: 'The cylinder wall is scratched, so the rings cannot seal.',
        cylinders: [3],
        probability: 0.155,
        prior: 0.0079,
        for: weigh(3, [['e9', 'cranking pressure dry 105 psi', 1.11], ['e3', 'plug wet with oil', 1.01]]),
        against: [],
        source: RINGS,
        advice: BOTTOM,
      },
    ],
    next_steps: [step, tap],
    advice: [
      { cylinders: [5], says: TOP, because: 'Suspected first: burnt or leaking exhaust valve.' },
      { cylinders: [3], says: 'Test again now, before any work and before relying on these readings.', because: 'Suspected first: worn or stuck rings.' },
      { cylinders: [1, 2, 4, 6], says: 'Carry on. Nothing here asks for work.', because: 'Nothing that was read points to a fault.' },
    ],
  };
}
