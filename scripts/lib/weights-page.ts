/**
 * docs/weights.md, made from the code: every number in it is asked of the practices and of the reading. What a weight
 * means and where it comes from is told here; the compiler asks for an entry for each.
 */
import { flatSigns } from "../../core/src/page/index.js"
import { parseShorthand } from "../../core/src/page/shorthand/index.js"
import {
  groupPreference,
  MODUS_LEVEL,
  PRACTICES,
  PROLATIO_LEVEL,
  TEMPUS_LEVEL,
  type GroupRule,
  type Practice,
  type Weights,
} from "../../core/src/practices/index.js"
import { MEANINGS, OPEN_COLOUR } from "../../core/src/together/colours.js"
import { BENT, LEFT_MODUS, LONGER } from "../../core/src/together/leaving-modus.js"
import { counterpointOf, INTERVAL_KINDS, MISSED_MEETING, type IntervalKind } from "../../core/src/counterpoint/index.js"
import { BEAM } from "../../core/src/reading/nodes.js"
import { groupCost } from "../../core/src/reading/semibreve-costs.js"
import { NO_HABITS } from "../../core/src/reading/semibreve-habits.js"
import { planGroups, withHabits } from "../../core/src/reading/semibreve-plan.js"
import { choosePractice } from "../../core/src/reading/settings.js"
import { cutVoice } from "../../core/src/reading/stretches.js"
import { emendWeights } from "./weights-emend.js"
import { habitWeights } from "./weights-habits.js"
import { mensurationWeights } from "./weights-mensuration.js"

interface Told {
  readonly what: string
  readonly from: string
}
const estimate = (why: string) => `estimate: ${why}`

const WEIGHTS: Record<keyof Weights, Told> = {
  open: {
    what: "a perfection is left unfilled, and counting begins again",
    from: estimate("nearly always a fault of the page or of the mensuration, so it comes last but is never impossible"),
  },
  carryModus: {
    what: "a unit is carried past a perfection of breves, to be counted with later ones",
    from: estimate("syncopation at the modus is taught, and rare before 1350"),
  },
  carry: { what: "the same below the modus", from: estimate("rare in simple songs, common in some styles") },
  carryOn: {
    what: "each further note while a unit is carried",
    from: estimate("long syncopations are rarer than short ones"),
  },
  likeModus: {
    what: "a long loses its first third although its like follows",
    from: "observed at the modus, where a lone unit before wins over the like that follows; how often was not counted",
  },
  like: {
    what: "the same below the modus",
    from: "counted for all levels together: before its like a note is whole in 999 of 1,000 (ln 999 = 6.9). Of Ars antiqua, where only the modus is perfect, it is not asked",
  },
  part: { what: "the first part that a note loses", from: estimate("the whole third is the usual loss") },
  morePart: {
    what: "each further part",
    from: "observed that the cost grows with the number of parts and that the nearest note that can give is asked first; the amount is an estimate",
  },
  splitUnit: {
    what: "a third is lost, half of it to each side",
    from: estimate("one treatise rule, few examples"),
  },
  across: { what: "a smaller note lies over the end of a perfection", from: estimate("met in syncopation only") },
  restAcross: { what: "a rest lies over the end of a perfection", from: estimate("forbidden by many, done by some") },
  endOpen: {
    what: "the voice ends inside a perfection",
    from: estimate("finals are held freely, so it says little"),
  },
  transport: {
    what: "a dot of division after which no perfection begins",
    from: estimate("taught for syncopation, rarer than the plain division"),
  },
  strokeOpen: {
    what: "a stroke that does not close a perfection",
    from: "counted for dots beside semibreves: none stood inside a breve. For strokes at the modus the amount is an estimate",
  },
  softOpen: {
    what: "a dot beside a semibreve that does not close a perfection of longs",
    from: estimate("such a dot parts breves; that it also parts perfections is only a little likelier"),
  },
  dotAgainstTable: {
    what: "a dot is taken for what the treatises on dots do not give for its place",
    from: estimate("scribes are careless with dots, but not as a habit"),
  },
  signOpen: {
    what: "a sign of mensuration stands inside a perfection",
    from: estimate("sections begin with a full perfection as a rule"),
  },
}

const one = (cost: number) => (cost >= 10 ? cost.toFixed(0) : String(Number(cost.toFixed(2))))
/** "1 : 20": how often it is met beside the way that costs nothing. */
function odds(cost: number): string {
  const times = Math.exp(cost)
  return `1 : ${times < 10 ? times.toFixed(1) : times.toFixed(0)}`
}
const shown = (cost: number) => (cost > BEAM ? `${one(cost)} (never)` : `${one(cost)} (${odds(cost)})`)

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(cell => cell.replaceAll("|", "\\|")).join(" | ")} |`
  return [line(head), `|${"---|".repeat(head.length)}`, ...rows.map(line)].join("\n")
}

function weightTable(): string {
  const rows = Object.entries(WEIGHTS).map(([name, { what, from }]) => [
    `\`${name}\``,
    what,
    ...PRACTICES.map(({ weights }) => shown(weights[name as keyof Weights])),
    from,
  ])
  return table(
    ["weight", "what it is the price of", ...PRACTICES.map(({ name }) => `\`${name}\``), "where it comes from"],
    rows,
  )
}

const GROUP_RULES: readonly GroupRule[] = ["first-imperfect", "by-threes", "practica-1496"]
const LEVELS = [
  [MODUS_LEVEL, "breves between longs"],
  [TEMPUS_LEVEL, "semibreves between breves"],
  [PROLATIO_LEVEL, "minims between semibreves"],
] as const
/** Kinds of runs; the last of them may be doubled only where it is a note and a note as large as the first follows. */
const RUNS: readonly (readonly [title: string, units: number, alterable: boolean])[] = [
  ["1", 1, true],
  ["2, the second may be altered", 2, true],
  ["2, the second may not", 2, false],
  ...[3, 4, 5, 6, 7, 8, 9].map(units => [String(units), units, true] as const),
]

/** "first shortened, 100 : 1", by the two costs of a run. */
function preferred(rule: GroupRule, level: number, units: number, alterable: boolean): string {
  const { whole, short } = groupPreference(rule, level, { units, alterable, startsWithRest: false })
  if (whole === short) return "either"
  const times = Math.exp(Math.abs(whole - short))
  return `${whole > short ? "shortened" : "whole"}, ${times < 10 ? times.toFixed(1) : times.toFixed(0)} : 1`
}

function groupTables(): string {
  const one = (rule: GroupRule) =>
    table(
      [`\`${rule}\``, ...LEVELS.map(([, title]) => title)],
      RUNS.map(([title, units, alterable]) => [
        title,
        ...LEVELS.map(([level]) => preferred(rule, level, units, alterable)),
      ]),
    )
  return GROUP_RULES.map(one).join("\n\n")
}

interface Scene {
  readonly title: string
  readonly practice: string
  readonly options: Readonly<Record<string, string>>
  /** The division of the breve was found out from the voice, not stated. */
  readonly found?: boolean
  readonly fence?: string
  readonly words?: boolean
}
const DIVIDED = { practice: "ars-antiqua", options: { breveDivision: "equal" } }
const SCENES: readonly Scene[] = [
  { title: "`two-or-three`, no words", practice: "ars-antiqua", options: { breveDivision: "two-or-three" } },
  { title: "divided breves found by `infer`, no words", ...DIVIDED, found: true },
  { title: "divided breves stated, no words", ...DIVIDED },
  { title: "a syllable to each", ...DIVIDED, found: true, words: true },
  { title: "a dot on either side, no words", ...DIVIDED, found: true, fence: " ." },
  { title: "plain semibreves c. 1315-25, no words", practice: "ars-nova", options: { minims: "unwritten" } },
]

function groupTable(): string {
  const rows = [3, 4, 5, 6, 7, 8].map(run => [String(run), ...SCENES.map(scene => likely(scene, run))])
  return table(["run of", ...SCENES.map(({ title }) => title)], rows)
}

/** The likeliest cuttings of a run between two breves, each with its share. */
function likely({ practice, options, found = false, fence = "", words = false }: Scene, run: number): string {
  const lyrics = words ? `\n> ${Array.from({ length: run + 2 }, (_, at) => `a${at}`).join(" ")}` : ""
  const notes = `B c4${fence} S ${Array<string>(run).fill("d4").join(" ")}${fence} B e4`
  const read = parseShorthand(`voice triplum black\nmens:modus=3:tempus=3\n${notes}${lyrics}`)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  const voice = read.value.voices[0]!
  const flat = flatSigns(voice)
  const chosen = choosePractice(voice, flat, { practice: { name: practice, options } })
  const stretch = cutVoice(flat, chosen, {}).stretches.at(-1)!
  const plan = withHabits(planGroups(stretch.figures, chosen.practice, chosen.settings, !found)!, NO_HABITS)
  const input = { ...chosen, mensuration: stretch.mensuration, figures: stretch.figures, plan }
  const ways = cuttings(run).map(sizes => {
    let at = 1
    const cost = sizes.reduce((total, size) => total + groupCost(input, (at += size) - size, size), 0)
    return { sizes, weight: Math.exp(-cost) }
  })
  const all = ways.reduce((total, { weight }) => total + weight, 0)
  return ways
    .sort((a, b) => b.weight - a.weight)
    .slice(0, 3)
    .filter(({ weight }) => weight / all >= 0.02)
    .map(({ sizes, weight }) => `${sizes.join("+")} ${Math.round((100 * weight) / all)} %`)
    .join("<br>")
}

/** All ways to write n as a sum of numbers from 2 to 9, in order. */
function cuttings(n: number): number[][] {
  if (n === 0) return [[]]
  const firsts = Array.from({ length: Math.min(n, 9) - 1 }, (_, at) => at + 2)
  return firsts.flatMap(first => cuttings(n - first).map(rest => [first, ...rest]))
}

const HEAD = `# Weights

<!-- Made by node scripts/docs.mjs from the code; the words are in scripts/lib/weights-page.ts, the numbers in the code itself. -->

Where the signs allow several readings, each choice has a cost, the natural logarithm of odds: what is met twenty times more rarely costs ln 20 = 3 more. Costs along a voice add up, odds multiply; the cheapest way is the reading, and what the others weigh beside it is the doubt. "1 : 20" below says that for twenty times the free choice the dear one is met once, all else being equal. A way that is dearer than the cheapest by ${one(BEAM)} (${odds(BEAM)}) is not followed at all; "never" marks what alone costs more than that.

Where a habit has been counted, in edited motets of c. 1300-1370 of one editorial tradition, the numbers are given. All other costs are estimates: set by hand, in their order by what the treatises call usual, rare or wrong, and tried on the cases and on invented lawful voices (\`node scripts/measure.mjs\`).`

const GROUPS = `## How units between two larger notes are counted

The rule is an option, \`groupRule\`, for each level. The table says what happens to the larger note before the run when both countings close: it is left whole or shortened by the first unit, and at what odds. What follows may overrule it; then the rule named is \`closure\`.

Counted: four breves between longs shorten the first long 300 to 3, five 16 to 6, six 23 to 5, eight or more 11 to 0; three or six minims leave the semibreve whole in all of 110; four minims shorten it 63 to 3; three semibreves leave the breve whole 16 to 2; two units of which the second may be altered: altered 62, both neighbours shortened 14 (4.4 : 1; a little was added to it). A lone breve before a two-breve rest joins that rest, unless one breve would be left over behind it: observed, not counted. The other numbers are estimates that stand between their neighbours; nothing was counted for \`practica-1496\`.`

const SEMIBREVES = `## How a run of semibreves is cut into breves

Prices of groups and of the boundaries between them, added up, for runs between two breves in a voice that shows nothing else; each cutting with its share among all cuttings of the run. The durations within a group are a matter of rules and options, not of weights.

Counted: no dot ever stood inside a breve, but only two thirds to four fifths of the boundaries had one. A run of four to six in which every note has its own syllable is nearly always one breve. Untexted four: one breve 27 to 7 in 1315-25, two breves 13 to 1 about 1300. Undivided five about 1300: 3+2 forty times, 2+3 four times, one breve eleven times, those with a syllable to every note; six: 2+2+2 fifteen, one breve seven, 3+3 four; seven: 2+3+2. That a downstem begins a group, that the edges of ligatures part groups, and that a syllable tends to begin one where not all notes have theirs: observed, the amounts are estimates. That without words the three of an odd run come last is taught about 1290 (Gaudent brevitate moderni) and not counted.`

const COUNTERPOINT = `## How voices sound together

Read together, the voices also weigh the intervals between them: each note when it begins, against what sounds in every other voice. A number is the natural logarithm of odds, how much rarer (positive: it speaks against) or commoner (negative: it speaks for) the interval is between voices laid together rightly than at random. "At a perfection" is the beginning of a perfect long in Ars antiqua, of a breve from the Ars nova on; "at a part" of a breve, or a semibreve. To miss the others at a final, at the last note of a section or at a signum congruentiae costs a voice ${one(MISSED_MEETING)}: an estimate. The lengths themselves are reckoned exactly. That colour means something else than a third less costs a voice beforehand: ${MEANINGS.map(([meaning, cost]) => `\`${meaning}\` ${one(cost)}`).join(", ")}; a coloured stretch with longs that does not last whole breves ${one(OPEN_COLOUR)} (estimates, in the order of Ars nova, c. 1320, 19; coloured notes are counted among themselves: Liber imperfectionum, 1470s, II.11). That a voice leaves its modus for six breves, though nothing says so, costs ${one(LEFT_MODUS)} beforehand, for twelve ${one(LONGER)} more; it is looked for where a voice does not meet the others, or where they bend their rules by more than ${one(BENT)} to meet (observed in motets to c. 1370; estimates).

Counted, in two five-part madrigals of 1582: the shares at random, and those of white notation, which were made a little less strict for the century before. Estimates: those of Ars antiqua and Ars nova, in the order of their concords (Ars cantus mensurabilis, c. 1280, IX; De mensurabili musica, c. 1260, IX and XI); that of every logarithm only 0.7 is taken, since neighbouring notes are not independent; and what is added for beginning together or apart. Parallels weigh nothing. A discord is "by step" where a note that begins is entered and left by step, or a held one resolves a step downward: in the madrigals none of 2,700 pairs was otherwise, though half of all would be at random; how much freer the older practices are is an estimate. How far a piece may be trusted is asked of itself: where its notes are certain, the weights are brought down until they would be right as often as they say. What the voices by themselves weigh stays as above.`

const KIND_NAMES: Readonly<Record<IntervalKind, string>> = {
  perfect: "unison, fifth, octave",
  third: "third",
  fourth: "fourth by leap",
  sixth: "sixth",
  discord: "second, seventh by leap",
  fourthByStep: "fourth by step",
  discordByStep: "second, seventh by step",
}

function counterpointTables(): string {
  return PRACTICES.map(({ name }) => {
    const { lowest, upper } = counterpointOf(name)
    const rows = [
      ["with the lowest voice, beginning together", lowest.together],
      ["with the lowest voice, against a held note", lowest.against],
      ["between upper voices, beginning together", upper.together],
      ["between upper voices, against a held note", upper.against],
    ] as const
    return table(
      [`\`${name}\``, "where", ...INTERVAL_KINDS.map(kind => KIND_NAMES[kind])],
      rows.flatMap(([what, byStrength]) =>
        (["at a perfection", "at a part", "elsewhere"] as const).map((where, i) => [
          what,
          where,
          ...INTERVAL_KINDS.map(kind => String(byStrength[2 - i]![kind])),
        ]),
      ),
    )
  }).join("\n\n")
}

const REST = `## What is not here

Small prices that belong to a single rule stand in the rule, with their reason: a dotted note that is imperfected all the same, an alteration before a remote larger note, two remote units that go to one note. All of them are estimates. So are the prices by which options that are left to be inferred are settled (\`core/src/reading/settings.ts\`).`

/** The whole page as Markdown. */
export function weightsPage(): string {
  const parts = [
    HEAD,
    "## Of a practice as a whole",
    weightTable(),
    GROUPS,
    groupTables(),
    SEMIBREVES,
    groupTable(),
    habitWeights(),
    COUNTERPOINT,
    counterpointTables(),
    mensurationWeights(),
    emendWeights(),
    REST,
  ]
  return `${parts.join("\n\n")}\n`
}

/** Weights of a practice that the page does not tell of; there should be none. */
export function untold(practice: Practice): string[] {
  return Object.keys(practice.weights).filter(name => !(name in WEIGHTS))
}
