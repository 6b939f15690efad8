import type { GuidanceView, RuleSetView, Screen } from '../types';
import { SIGNS } from './trade';

/** Cautions and lists as the core has them (`core/src/sequence`, `rules`), shortened. */

const AC = 'FAA AC 43.13-1B, paragraph 8-14';

const CAUTIONS: Partial<Record<Screen, GuidanceView['cautions']>> = {
  plugs: [
    { before: 'before-ignition', says: 'Make ignition and fuel safe so that the engine cannot start or spray fuel. Do it the way the maker’s manual says; ignition voltage can kill.', source: 'US Army TM 5-4210-230-14&P-1, Addendum 2, compression test, steps 1 to 6' },
  ],
  cranking: [
    { before: 'before-ignition', says: 'Make ignition and fuel safe so that the engine cannot start or spray fuel. Do it the way the maker’s manual says; ignition voltage can kill.', source: 'US Army TM 5-4210-230-14&P-1, Addendum 2, compression test, steps 1 to 6' },
    { before: 'before-cranking', says: 'Keep hands, hair, clothes and leads clear of belts, fans and plug holes. Gear in neutral or park, wheels blocked, nobody in front of the plug holes.', source: 'common practice, no source' },
  ],
  'leak-down': [
    { before: 'before-turning', says: 'Ignition off and key out before turning the crank by hand.', source: 'Lycoming service instruction 1191A, 28 September 1998, cautions' },
    { before: 'before-air', says: 'Air can turn the crank with force when the piston is not at top dead centre. Take off the turning tool, hold or lock the crank, stand clear, and open the air slowly.', source: AC },
    { before: 'while-air-is-on', says: 'Do not turn or rock the crank out of top dead centre and do not loosen the fitting. Eye protection on.', source: 'common practice, no source' },
    { before: 'before-tapping', says: 'Take the air off first and turn the piston away from top dead centre, so that a valve cannot meet it. Tap the rocker over the stem with a fibre drift.', source: 'Continental IOF-240-B manual, p. 7-22' },
  ],
};

export function guidanceOf(screen: Screen): GuidanceView {
  const leak = screen === 'leak-down';
  return {
    cautions: CAUTIONS[screen] ?? [],
    must_see: leak
      ? [
          { says: 'Both valves closed: the rockers or tappets of this cylinder are at rest.', otherwise: 'It is at the top between exhaust and intake. Turn the crank one full turn.', source: 'common practice, no source' },
          { says: 'Lash on both valves: each rocker or tappet has free play, where the engine has any.', otherwise: 'A valve is held off its seat. Set the lash first, or the reading means nothing.', source: 'common practice, no source' },
          { says: 'Piston at top dead centre: at the flat spot, where the crank can be moved a little without the piston moving.', otherwise: 'Air will turn the crank.', source: AC },
        ]
      : [],
    when_passed: leak
      ? { before: 'before-turning', says: 'Turn in the direction of rotation only. If top dead centre was passed, go back at least half a turn and come up to it again.', source: AC }
      : null,
    signs: SIGNS,
    exits: ['intake', 'exhaust', 'oil filler', 'coolant', 'next plug hole', 'fitting', 'nowhere'],
  };
}

export const RULE_SETS: RuleSetView[] = [
  { id: 'lowest-75-of-highest', name: 'Lowest at least 75 % of highest', limits: ['Lowest at least 75 % of the highest (Ford 1996 F-series/Bronco Workshop Manual, section 03-00)', 'Leak-down in plain bands (common practice, no source)'] },
  { id: 'leak-split', name: 'Leak-down at most 25 %, valves and gasket 10 %, rings 20 %', limits: [] },
  { id: 'makers-figures', name: 'Only the maker’s own figures', limits: [] },
];
