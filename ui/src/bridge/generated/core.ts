// Made from `src-tauri/bench/src/live/wire`. Do not edit: `cargo xtask types` writes it.

/**
 * What to do.
 */
export type AdviceView = { 
/**
 * For which cylinders.
 */
cylinders: Array<number>, 
/**
 * What to do, with how urgent it is.
 */
says: string, 
/**
 * Why.
 */
because: string, };

/**
 * The thumb's answer to a question.
 */
export type Answer = "first" | "second" | "neither";

/**
 * How an entry came in.
 */
export type By = "voice" | "thumb" | "camera";

/**
 * A caution.
 */
export type CautionView = { 
/**
 * before-ignition, before-cranking, before-turning, before-air, while-air-is-on,
 * before-tapping.
 */
before: string, 
/**
 * The caution.
 */
says: string, 
/**
 * Where it comes from.
 */
source: string, };

/**
 * A circle in the upright picture at its full size.
 */
export type Circle = { 
/**
 * Centre from the left, pixels.
 */
x_px: number, 
/**
 * Centre from the top, pixels.
 */
y_px: number, 
/**
 * Radius, pixels.
 */
radius_px: number, };

/**
 * The conditions; `null` is "not said".
 */
export type ConditionsDraft = { 
/**
 * How warm the engine was.
 */
warmth: Warmth | null, 
/**
 * Throttle held wide open while cranking.
 */
throttle_open: boolean | null, 
/**
 * All plugs out while cranking.
 */
all_plugs_out: boolean | null, 
/**
 * Ignition and fuel made safe.
 */
made_safe: boolean | null, 
/**
 * Battery charged or supported.
 */
battery_charged: boolean | null, 
/**
 * Height above sea level, metres.
 */
altitude_m: number | null, 
/**
 * Pressure of the air around, hectopascals.
 */
barometer_hpa: number | null, 
/**
 * Anything else, in words.
 */
notes: Array<string>, };

/**
 * Entries that contradict each other.
 */
export type ConflictView = { 
/**
 * The cylinder.
 */
cylinder: number, 
/**
 * The two entries.
 */
entries: [string, string], 
/**
 * What contradicts what, and what to suspect.
 */
says: string, };

/**
 * How much one entry speaks for or against a finding.
 */
export type ContributionView = { 
/**
 * The entry.
 */
entry: string, 
/**
 * The cylinder it is about.
 */
cylinder: number, 
/**
 * What it says, with its number and unit.
 */
says: string, 
/**
 * Natural logarithm of the odds it adds or takes away; always positive.
 */
log_odds: number, };

/**
 * The sound to make.
 */
export type Cue = "accepted" | "changed" | "noted" | "moved" | "asking" | "refused";

/**
 * One cylinder.
 */
export type CylinderView = { 
/**
 * Its number.
 */
number: number, 
/**
 * How it stands.
 */
standing: Standing, 
/**
 * Final cranking pressure, dry.
 */
dry: Figure | null, 
/**
 * Final cranking pressure, wet.
 */
wet: Figure | null, 
/**
 * Pressures part way through the strokes, as `[stroke, figure]`.
 */
strokes: Array<[number, Figure]>, 
/**
 * Leak-down as found; always in percent, with the pressures beside it where they were read.
 */
leak: Figure | null, 
/**
 * Leak-down after a tap on the valves.
 */
leak_tapped: Figure | null, 
/**
 * The leak that counts as an area, square millimetres; `null` when the tester is not known.
 */
leak_area_mm2: number | null, 
/**
 * Why there is no area, when there is a leak.
 */
no_area: string | null, 
/**
 * Where air was heard.
 */
air: Array<string>, 
/**
 * What the plug is said to look like, by name.
 */
signs: Array<string>, 
/**
 * Plug gap.
 */
gap: Figure | null, 
/**
 * Whether there is a picture of its plug.
 */
picture: boolean, 
/**
 * Dry pressure to the highest of the engine, 0 to 1.
 */
of_highest: number | null, 
/**
 * How far wet lies above dry, as a fraction of dry.
 */
wet_rise: number | null, 
/**
 * Against every limit in force.
 */
limits: Array<LimitView>, };

/**
 * The engine.
 */
export type EngineDraft = { 
/**
 * Cylinder numbers in the order they fire: each from 1 to their count, once.
 */
firing_order: Array<number>, 
/**
 * Banks of cylinder numbers, each from front to rear; `null` when not said.
 */
banks: Array<Array<number>> | null, 
/**
 * What it burns.
 */
fuel: Fuel | null, 
/**
 * Cylinder bore, millimetres.
 */
bore_mm: number | null, 
/**
 * Piston stroke, millimetres.
 */
stroke_mm: number | null, 
/**
 * Connecting rod, centre to centre, millimetres.
 */
rod_length_mm: number | null, 
/**
 * Static compression ratio, to one.
 */
compression_ratio: number | null, 
/**
 * When the intake valve closes, crank degrees after bottom dead centre.
 */
intake_closes_degrees: number | null, };

/**
 * An entry put in by thumb: the same shape that the command line takes. `kind` says which of the
 * other fields count: cranking, leak-down, tap, listening, look, gap, remark.
 */
export type EntryDraft = { 
/**
 * cranking, leak-down, tap, listening, look, gap, remark.
 */
kind: string, 
/**
 * The cylinder's number; a remark may have none.
 */
cylinder?: number, 
/**
 * The number, in `unit`; of a range its middle.
 */
value?: number, 
/**
 * psi, kPa, bar, kgf/cm2, percent, thou, mm.
 */
unit?: string, 
/**
 * Cranking: with oil in the cylinder.
 */
wet?: boolean, 
/**
 * Cranking: after this many strokes, when it is not the final pressure.
 */
stroke?: number, 
/**
 * Leak-down: after a tap on the valves. `kind: "tap"` says the same.
 */
tapped?: boolean, 
/**
 * The lower end of a range, in `unit`.
 */
from?: number, 
/**
 * The upper end of a range, in `unit`.
 */
to?: number, 
/**
 * Called approximate.
 */
about?: boolean, 
/**
 * Two-gauge leak-down: the supply side, in `unit`; `value` is the cylinder side then.
 */
supply?: number, 
/**
 * Listening: intake, exhaust, oil filler, coolant, next plug hole, fitting, nowhere.
 */
at?: string, 
/**
 * Look: the signs, by their identity in `GuidanceView::signs`.
 */
signs?: Array<string>, 
/**
 * Remark: the words.
 */
text?: string, };

/**
 * One line of the log.
 */
export type EntryView = { 
/**
 * Its identity.
 */
id: string, 
/**
 * When it was made, RFC 3339 in UTC.
 */
at: string, 
/**
 * What it says, in words: "cylinder three, one hundred five psi".
 */
words: string, 
/**
 * What it says, as data. `null` for an entry that takes another back.
 */
entry: EntryDraft | null, 
/**
 * The entry it corrects or takes back.
 */
target: string | null, 
/**
 * Whether it takes another back.
 */
takes_back: boolean, 
/**
 * Whether it stands: neither corrected nor taken back since.
 */
in_force: boolean, 
/**
 * How it came in.
 */
by: By, 
/**
 * Whether `clip_of` has its voice clip.
 */
clip: boolean, 
/**
 * The picture it stands on, for `picture_of`.
 */
picture: string | null, 
/**
 * How sure the hearing was, 0 to 1.
 */
sureness: number | null, 
/**
 * What was heard, unconstrained.
 */
heard: string | null, 
/**
 * Said, and neither sure nor settled by an answer: kept as a remark, to be settled by thumb.
 */
unsettled: boolean, };

/**
 * A number that was read, with the entry it stands on.
 */
export type Figure = { 
/**
 * The entry.
 */
entry: string, 
/**
 * The number, in `unit`; of a range its middle.
 */
value: number, 
/**
 * psi, kPa, bar, kgf/cm2, percent, thou, mm.
 */
unit: string, 
/**
 * The lower end of a range.
 */
from: number | null, 
/**
 * The upper end of a range.
 */
to: number | null, 
/**
 * Called approximate.
 */
about: boolean, 
/**
 * Two-gauge leak-down: the supply side, in `supply_unit`; `value` is the percent then.
 */
supply: number | null, 
/**
 * Two-gauge leak-down: the cylinder side, in `supply_unit`.
 */
cylinder_side: number | null, 
/**
 * Unit of `supply` and `cylinder_side`.
 */
supply_unit: PressureUnit | null, 
/**
 * The tester it was read on, when known.
 */
tester: string | null, };

/**
 * A cause that explains what was observed.
 */
export type FindingView = { 
/**
 * The cause's name in the model.
 */
cause: string, 
/**
 * In plain words.
 */
plain: string, 
/**
 * The cylinders it concerns.
 */
cylinders: Array<number>, 
/**
 * How probable, 0 to 1.
 */
probability: number, 
/**
 * How probable before anything was observed, 0 to 1.
 */
prior: number, 
/**
 * What speaks for it, strongest first.
 */
for: Array<ContributionView>, 
/**
 * What speaks against it, strongest first.
 */
against: Array<ContributionView>, 
/**
 * Where the model has it from.
 */
source: string, 
/**
 * What to do if it is so; never whether to buy.
 */
advice: string, };

/**
 * What the engine burns.
 */
export type Fuel = "petrol" | "diesel" | "lpg";

/**
 * Fixed words of the trade, and what must be heeded on one screen.
 */
export type GuidanceView = { 
/**
 * Cautions of the screen, in the order of the work.
 */
cautions: Array<CautionView>, 
/**
 * What must be seen before air goes on; only on the leak-down screen.
 */
must_see: Array<MustSeeView>, 
/**
 * What to do when top dead centre was passed; only on the leak-down screen.
 */
when_passed: CautionView | null, 
/**
 * Plug signs, `[identity, name]`, for a look by thumb.
 */
signs: Array<[string, string]>, 
/**
 * Places where air can come out, in the order they are listened to.
 */
exits: Array<string>, };

/**
 * Which thumb works.
 */
export type HandSide = "left" | "right";

/**
 * What is expected to be said next.
 */
export type HandView = { 
/**
 * The screen that is shown: it says which quantity is in hand.
 */
screen: Screen, 
/**
 * The cylinder a reading without one is of.
 */
cylinder: number | null, 
/**
 * Whether a cranking pressure is taken as wet.
 */
wet: boolean, 
/**
 * The unit of a pressure said without one.
 */
unit: PressureUnit, };

/**
 * What goes into the document.
 */
export type HandoverChoices = { 
/**
 * Paper.
 */
paper: PaperSize, 
/**
 * Plug pictures.
 */
pictures: boolean, 
/**
 * Minutes that the clock on the wall is ahead of UTC; every time is printed on that clock.
 */
utc_offset_minutes: number, };

/**
 * A document that was made and waits to be looked at, saved or shared.
 */
export type HandoverMade = { 
/**
 * Its file name.
 */
name: string, 
/**
 * Its pages; `handover_page` draws one.
 */
pages: number, 
/**
 * Its size, bytes.
 */
bytes: number, 
/**
 * Its SHA-256, hex.
 */
sha256: string, 
/**
 * How many entries the log had.
 */
entries: number, };

/**
 * Where it was put.
 */
export type HandoverSaved = { 
/**
 * The file, for people.
 */
path: string, };

/**
 * What came of one utterance, or of one act of the thumb.
 */
export type HeardNow = { 
/**
 * What became of it.
 */
outcome: HeardOutcome, 
/**
 * The sound to make.
 */
cue: Cue, 
/**
 * The words to say aloud, and to show; empty for none.
 */
say: string, 
/**
 * What was heard, unconstrained; empty for the thumb.
 */
heard: string, 
/**
 * How sure, 0 to 1.
 */
sureness: number | null, 
/**
 * The entries that went into the log, oldest first. On disk before this is told.
 */
entries: Array<EntryView>, 
/**
 * The cylinders they are about, as they are known now.
 */
cylinders: Array<CylinderView>, 
/**
 * The question that is open now.
 */
question: QuestionView | null, 
/**
 * Why it was refused, or what was not made out.
 */
why: string | null, 
/**
 * What is expected now.
 */
hand: HandView, 
/**
 * From the end of the sound to this, milliseconds; `null` for the thumb.
 */
after_ms: number | null, };

/**
 * What became of something said.
 */
export type HeardOutcome = "accepted" | "ask" | "remark" | "unheard" | "refused" | "question-closed";

/**
 * A job without its log.
 */
export type JobDraft = { 
/**
 * For whom.
 */
customer: string, 
/**
 * Which vehicle or machine.
 */
vehicle: string, 
/**
 * What the customer wants to know.
 */
question: string, 
/**
 * The engine.
 */
engine: EngineDraft, 
/**
 * The testers used.
 */
testers: Array<TesterDraft>, 
/**
 * The conditions.
 */
conditions: ConditionsDraft, 
/**
 * The rule set's identity; see `rule_sets`.
 */
rule_set: string, 
/**
 * The maker's figures.
 */
makers_figures: Makers, 
/**
 * Whether this is an invented example.
 */
invented: boolean, };

/**
 * A line of the jobs list.
 */
export type JobLine = { 
/**
 * Its identity.
 */
id: string, 
/**
 * When it was begun, RFC 3339 in UTC.
 */
begun: string, 
/**
 * For whom.
 */
customer: string, 
/**
 * Which vehicle or machine.
 */
vehicle: string, 
/**
 * Whether it is an invented example.
 */
invented: boolean, 
/**
 * How many entries its log has.
 */
entries: number, };

/**
 * An open job.
 */
export type JobView = { 
/**
 * Its identity.
 */
id: string, 
/**
 * How often it was described; 1 for a new job.
 */
revision: number, 
/**
 * When it was begun, RFC 3339 in UTC.
 */
begun: string, 
/**
 * The description.
 */
draft: JobDraft, 
/**
 * The cylinders in firing order.
 */
cylinders: Array<CylinderView>, 
/**
 * The engine taken together.
 */
summary: SummaryView, 
/**
 * The log, newest first.
 */
entries: Array<EntryView>, 
/**
 * The plugs' pictures compared.
 */
plugs: PlugsView, 
/**
 * The leak-down round in firing order.
 */
round: Array<TurnView>, 
/**
 * What is expected now.
 */
hand: HandView, 
/**
 * The question that is open.
 */
question: QuestionView | null, };

/**
 * Everything the tool says about an engine.
 */
export type JudgementView = { 
/**
 * The job.
 */
job: string, 
/**
 * How many entries the log had.
 */
entries: number, 
/**
 * The description it was judged by.
 */
revision: number, 
/**
 * Most probable first.
 */
findings: Array<FindingView>, 
/**
 * Most telling per minute first.
 */
next_steps: Array<NextStepView>, 
/**
 * Why testing can stop, when it can.
 */
settled: string | null, 
/**
 * Contradictions.
 */
conflicts: Array<ConflictView>, 
/**
 * What was not tested, and what was assumed.
 */
not_tested: Array<string>, 
/**
 * Most urgent first.
 */
advice: Array<AdviceView>, };

/**
 * A limit as a line or band edge in a bar chart.
 */
export type LimitLine = { 
/**
 * The limit's stable name.
 */
limit: string, 
/**
 * Of which quantity.
 */
quantity: Quantity, 
/**
 * Where the line stands, in `unit`.
 */
value: number, 
/**
 * psi, kPa, bar, kgf/cm2, percent.
 */
unit: string, 
/**
 * Whether the good side is above it; below it otherwise.
 */
good_is_above: boolean, 
/**
 * In words, for the line's label.
 */
says: string, 
/**
 * Where it comes from.
 */
source: string, };

/**
 * One limit and one cylinder.
 */
export type LimitView = { 
/**
 * The limit's stable name.
 */
limit: string, 
/**
 * Of which quantity.
 */
quantity: Quantity, 
/**
 * How the cylinder stands.
 */
verdict: VerdictWord, 
/**
 * Value and limit in words; or why not tested.
 */
says: string, 
/**
 * The band of a graded table.
 */
band: string | null, 
/**
 * What the source asks for in that band.
 */
asks: string | null, 
/**
 * Where the limit comes from.
 */
source: string, 
/**
 * What else the source says; may be empty.
 */
note: string, };

/**
 * How the microphone is used.
 */
export type ListenMode = "hands-free" | "press";

/**
 * What the core tells. One event of the shell, `live`, carries all of them, so they come in the
 * order they happened.
 */
export type LiveEvent = { "event": "level", 
/**
 * Loudest sample of the last piece, decibels of full scale: 0 loudest, -90 silence.
 */
peak_dbfs: number, 
/**
 * Root mean square of the last piece, decibels of full scale.
 */
mean_dbfs: number, 
/**
 * Whether somebody is speaking now.
 */
speech: boolean, } | { "event": "speech-began" } | { "event": "speech-dropped" } | { "event": "working", 
/**
 * How many wait behind it.
 */
waiting: number, } | { "event": "heard", 
/**
 * What.
 */
now: HeardNow, } | { "event": "job", 
/**
 * As it is now.
 */
job: JobView, } | { "event": "judged", 
/**
 * The judgement.
 */
judgement: JudgementView, } | { "event": "next-step" } | { "event": "microphone", 
/**
 * As it is now.
 */
microphone: Microphone, } | { "event": "weights", 
/**
 * As they are now.
 */
weights: WeightsView, } | { "event": "sound-lost" } | { "event": "failed", 
/**
 * What.
 */
problem: Problem, };

/**
 * The maker's own figures, which win over the rule set.
 */
export type Makers = { 
/**
 * Where they are from, in words.
 */
from: string, 
/**
 * The lowest cranking pressure allowed.
 */
lowest: Pressure | null, 
/**
 * The highest cranking pressure allowed.
 */
highest: Pressure | null, 
/**
 * The largest difference allowed between cylinders.
 */
spread: Pressure | null, 
/**
 * The smallest share of the highest cylinder allowed, percent.
 */
lowest_of_highest_percent: number | null, 
/**
 * The largest leak-down allowed, percent.
 */
leak_percent: number | null, 
/**
 * What the leak-down set showed through the maker's master orifice on the day.
 */
master_orifice: Pressure | null, };

/**
 * What a tester measures.
 */
export type Measures = "cranking-gauge" | "leak-down-set";

/**
 * The microphone.
 */
export type Microphone = { 
/**
 * Its state.
 */
state: MicrophoneState, 
/**
 * How it is used; `null` when it is off.
 */
mode: ListenMode | null, 
/**
 * Why it failed.
 */
problem: Problem | null, 
/**
 * "microphone", or "test feed" where sound comes from a folder of clips.
 */
source: string, };

/**
 * Where the microphone stands.
 */
export type MicrophoneState = "off" | "opening" | "listening" | "muted" | "failed";

/**
 * Something to see before air goes on.
 */
export type MustSeeView = { 
/**
 * What.
 */
says: string, 
/**
 * What it means when it is not so.
 */
otherwise: string, 
/**
 * Where it comes from.
 */
source: string, };

/**
 * A test that could still be made.
 */
export type NextStepView = { 
/**
 * What to do.
 */
next_step: string, 
/**
 * On which cylinder.
 */
cylinder: number | null, 
/**
 * What it would tell on average, bits.
 */
bits: number, 
/**
 * How long it takes, minutes.
 */
minutes: number, 
/**
 * The chance that it changes what to do, 0 to 1.
 */
changes_advice: number, 
/**
 * What it would settle.
 */
settles: string, };

/**
 * One of the readings a question offers.
 */
export type OfferView = { 
/**
 * In words.
 */
words: string, 
/**
 * As data, where it is an observation.
 */
entry: EntryDraft | null, };

/**
 * Two pictures and how far apart they are.
 */
export type PairView = { 
/**
 * The one cylinder.
 */
one: number, 
/**
 * The other.
 */
other: number, 
/**
 * CIEDE2000.
 */
ciede2000: number, 
/**
 * One standard deviation of it.
 */
error: number, };

/**
 * Paper.
 */
export type PaperSize = "A4" | "Letter";

/**
 * What a new picture shows.
 */
export type PictureTarget = { "of": "plug", 
/**
 * Of this cylinder.
 */
cylinder: number, } | { "of": "tray" };

/**
 * The newest picture of one plug.
 */
export type PictureView = { 
/**
 * The cylinder.
 */
cylinder: number, 
/**
 * The picture, for `picture_of`.
 */
picture: string, 
/**
 * Width of the upright picture, pixels.
 */
width_px: number, 
/**
 * Height of the upright picture, pixels.
 */
height_px: number, 
/**
 * The circle around the insulator: the user's, or the one found.
 */
circle: Circle, 
/**
 * How sure it is that this is the insulator, 0 to 1; `null` when the user said so.
 */
confidence: number | null, 
/**
 * Whether a neutral reference was found, so that it may be compared.
 */
balanced: boolean, 
/**
 * What is wrong with it, in words; empty when nothing is.
 */
faults: Array<string>, 
/**
 * Lightness of the insulator (CIELAB L*), 0 black to 100 white.
 */
lightness: number, 
/**
 * CIELAB a*.
 */
a: number, 
/**
 * CIELAB b*.
 */
b: number, 
/**
 * The same colour for a screen, "#rrggbb".
 */
swatch: string, 
/**
 * CIEDE2000 to the middle of the others, when it stands out.
 */
odd_by: number | null, };

/**
 * The plugs' pictures.
 */
export type PlugsView = { 
/**
 * The newest picture of each plug, by cylinder number.
 */
pictures: Array<PictureView>, 
/**
 * Whether they may be compared.
 */
comparable: boolean, 
/**
 * Why not, in words; also when there are fewer than two.
 */
why_not: string | null, 
/**
 * Every pair.
 */
pairs: Array<PairView>, 
/**
 * all-alike, some-odd, no-common-look; `null` for fewer than three.
 */
pattern: string | null, };

/**
 * A gauge pressure in the unit it was stated in.
 */
export type Pressure = { 
/**
 * The number.
 */
value: number, 
/**
 * Its unit.
 */
unit: PressureUnit, };

/**
 * The unit a pressure is stated in.
 */
export type PressureUnit = "psi" | "kPa" | "bar" | "kgf/cm2";

/**
 * Why something could not be done. Commands refuse with this.
 */
export type Problem = { 
/**
 * What went wrong: which quantity, what was given.
 */
what: string, 
/**
 * What would have been allowed.
 */
allowed: string | null, 
/**
 * What to do about it; may be empty.
 */
hint: string, 
/**
 * The field of a draft it is about: "engine.firing_order", "testers[1].supply", "value".
 */
field: string | null, };

/**
 * A quantity of the cylinder strip.
 */
export type Quantity = "cranking" | "leak-down";

/**
 * A question that waits for its answer, by voice or thumb.
 */
export type QuestionView = { 
/**
 * The question in words: "cylinder three: ninety or nineteen?".
 */
words: string, 
/**
 * What is offered, likelier first; one or two.
 */
offered: Array<OfferView>, 
/**
 * The entry its clip is kept with until it is answered; `clip_of` plays it.
 */
entry: string | null, };

/**
 * A name that can be picked, with its identity for commands.
 */
export type RuleSetView = { 
/**
 * Identity: `JobDraft::rule_set`.
 */
id: string, 
/**
 * Plain name.
 */
name: string, 
/**
 * Its limits, each in words with the source.
 */
limits: Array<string>, };

/**
 * The screens of a job, in the order of the work.
 */
export type Screen = "intake" | "plugs" | "cranking" | "leak-down" | "findings" | "handover";

/**
 * Everything that is set once. What a file lacks has its default.
 */
export type Settings = { 
/**
 * The unit of a pressure said without one, before any was read.
 */
pressure_unit: PressureUnit, 
/**
 * The rule set of a new job.
 */
rule_set: string, 
/**
 * The testers of a new job.
 */
testers: Array<TesterDraft>, 
/**
 * The workshop's height above sea level, metres.
 */
altitude_m: number | null, 
/**
 * Whether readings are said back.
 */
speaks: boolean, 
/**
 * Whether tones are made.
 */
tones: boolean, 
/**
 * Whether listening begins by itself on the working screens.
 */
hands_free: boolean, 
/**
 * Text size.
 */
text_size: TextSize, 
/**
 * Which thumb.
 */
hand: HandSide, 
/**
 * The look.
 */
theme: Theme, 
/**
 * A language tag (BCP 47); "en" now.
 */
language: string, 
/**
 * Paper of the handover.
 */
letter_paper: boolean, };

/**
 * How a cylinder stands, worst first: one word and one shape for the strip.
 */
export type Standing = "outside" | "on-the-line" | "inside" | "known" | "nothing";

/**
 * The engine taken together.
 */
export type SummaryView = { 
/**
 * Name of the rule set.
 */
rule_set: string, 
/**
 * Unit of the pressures below.
 */
unit: PressureUnit | null, 
/**
 * Highest dry pressure.
 */
highest: number | null, 
/**
 * Lowest dry pressure.
 */
lowest: number | null, 
/**
 * Lowest to highest, 0 to 1.
 */
lowest_of_highest: number | null, 
/**
 * Largest leak, percent.
 */
most_leak_percent: number | null, 
/**
 * Limits as chart lines.
 */
lines: Array<LimitLine>, 
/**
 * Limits of the rule set that the maker's figures replaced, in words with the source.
 */
put_aside: Array<string>, };

/**
 * A tester.
 */
export type TesterDraft = { 
/**
 * What it is called in this job; each name once.
 */
name: string, 
/**
 * What it measures.
 */
measures: Measures, 
/**
 * Its zero check.
 */
zero: Zero, 
/**
 * Of a gauge: the distance between two marks.
 */
resolution: Pressure | null, 
/**
 * Of a leak-down set: diameter of the restrictor, millimetres.
 */
restrictor_mm: number | null, 
/**
 * Of a leak-down set: regulated supply pressure.
 */
supply: Pressure | null, };

/**
 * How large text is.
 */
export type TextSize = "normal" | "large" | "largest";

/**
 * The look.
 */
export type Theme = "bonnet" | "sun" | "night";

/**
 * One turn of the crank in the leak-down round, taking the engine as a four-stroke that fires
 * evenly.
 */
export type TurnView = { 
/**
 * The cylinder to bring to the top of its compression stroke.
 */
cylinder: number, 
/**
 * How far to turn from the one before, crank degrees.
 */
turn_degrees: number, 
/**
 * How far from the first, crank degrees.
 */
from_start_degrees: number, 
/**
 * Cylinders at the top at the same mark, one turn off.
 */
shares_mark_with: Array<number>, };

/**
 * How a reading stands against one limit.
 */
export type VerdictWord = "inside" | "outside" | "on-the-line" | "not-tested";

/**
 * How warm the engine was.
 */
export type Warmth = "cold" | "warm" | "hot";

/**
 * Where the recogniser's weights stand.
 */
export type WeightsState = "looking" | "copying" | "loading" | "ready" | "missing" | "damaged";

/**
 * The recogniser's weights.
 */
export type WeightsView = { 
/**
 * Their state.
 */
state: WeightsState, 
/**
 * What is wrong, when something is.
 */
problem: Problem | null, };

/**
 * The zero check of a tester.
 */
export type Zero = { "state": "not-done" } | { "state": "good" } | { "state": "off", 
/**
 * What it showed, in words.
 */
note: string, };

/** Every command: what it takes and what it gives. */
export interface Commands {
  jobs_list: { takes: { search: string }; gives: Array<JobLine> };
  job_begin: { takes: { draft: JobDraft }; gives: JobView };
  job_open: { takes: { id: string }; gives: JobView };
  job_now: { takes: Record<string, never>; gives: JobView | null };
  job_revise: { takes: { draft: JobDraft }; gives: JobView };
  job_close: { takes: Record<string, never>; gives: null };
  judgement: { takes: Record<string, never>; gives: JudgementView | null };
  expect_set: { takes: { screen: Screen, cylinder: number | null }; gives: HandView };
  entry_type: { takes: { entry: EntryDraft }; gives: HeardNow };
  entry_correct: { takes: { id: string, entry: EntryDraft }; gives: HeardNow };
  entry_withdraw: { takes: { id: string }; gives: HeardNow };
  question_answer: { takes: { answer: Answer }; gives: HeardNow };
  listen_start: { takes: { mode: ListenMode }; gives: Microphone };
  listen_stop: { takes: Record<string, never>; gives: Microphone };
  microphone_state: { takes: Record<string, never>; gives: Microphone };
  speaking: { takes: { on: boolean }; gives: null };
  speech_of: { takes: { words: string }; gives: ArrayBuffer };
  clip_of: { takes: { entry: string }; gives: ArrayBuffer };
  picture_add: { takes: { target: PictureTarget, data: string }; gives: PlugsView };
  picture_circle: { takes: { cylinder: number, circle: Circle }; gives: PlugsView };
  picture_of: { takes: { picture: string }; gives: ArrayBuffer };
  picture_strip: { takes: Record<string, never>; gives: ArrayBuffer };
  handover_make: { takes: { choices: HandoverChoices }; gives: HandoverMade };
  handover_page: { takes: { page: number }; gives: ArrayBuffer };
  handover_save: { takes: Record<string, never>; gives: HandoverSaved };
  settings_get: { takes: Record<string, never>; gives: Settings };
  settings_set: { takes: { settings: Settings }; gives: Settings };
  rule_sets: { takes: Record<string, never>; gives: Array<RuleSetView> };
  guidance: { takes: { screen: Screen }; gives: GuidanceView };
  weights_state: { takes: Record<string, never>; gives: WeightsView };
}
