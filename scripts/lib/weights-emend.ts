/** The part of docs/weights.md about slips and emendations: numbers from the code, words from here. */
import { EMENDATION_KINDS } from "../../core/src/together/emend/types.js"
import { OWN_SOUND_AFTER } from "../../core/src/counterpoint/index.js"
import {
  BEYOND_RANGE,
  CUSTOS_WRONG,
  FALSE_FIFTH,
  HABIT_WEIGHT,
  LEAST_EVIDENCE,
  LEAST_GAIN,
  LEAST_GAIN_OF_SHIFT,
  MEETS_AGAIN,
  LAID_AGAINST,
  LOST_WITHIN,
  MELODY_WEIGHT,
  METRE_WEIGHT,
  NO_OTHER_COLOUR,
  OTHER_PLACE_WITHIN,
  OTHERS_HABITS,
  PAIR_GAINS,
  PARALLELS_SUPPOSED,
  READ_ANEW,
  REPEAT_AGREES,
  REST_TOO_MANY,
  RUN_CUT_SHORT,
  RUN_MIXED,
  RUN_NOT_WHOLE,
  SECOND_SLIP,
  SHIFT_BY_LEAPS,
  SHIFT_BY_NO_THIRD,
  SHIFT_DEARER,
  SHORT_COPY,
  SHIFT_GOES_ON,
  SHIFT_LEAVES_APART,
  SHIFT_OF_NO_LINE,
  SHIFT_BY_SIZE,
  SHIFT_WITHOUT_CLEF,
  SHOWN_WITHIN,
  SLIP_COSTS,
  SMALL_PIECE,
  STATEMENTS_DIFFER,
  SUPPLIED_SOUND,
  UNEXPLAINED,
  WELL_FORETOLD,
  WORDLESS_RUN,
  WORDS_LOST,
  WORTH_A_TRIAL,
  WRONG_ALIKE,
} from "../../core/src/together/emend/weights.js"

const HEAD = `## Slips and what mends them

\`resolutio fit\` weighs a change of the page by how much better the page reads with it, less what the slip costs that it would mend. How common a slip is at one place where it could be made began as an estimate from what the handbooks say of scribes; these costs and the shares below were then moved, by hand, towards what a log-linear model of some 176 slips planted in invented pieces, of 220 shifts of pitches, and of 315 more of all kinds, asked for ([emendations.md](emendations.md) tells how it fares with others). Colour is put in run by run, often by another pen and later, so that to forget a run is one slip, and a common one beside the few runs that a page has; whether such a run is likely is told by its make and not, note by note, by how rare coloured notes are. The least evidence and gain were set by what sound pieces show. All else is an estimate.`

const ROWS: readonly (readonly [what: string, value: number])[] = [
  ["the voices part for no known reason", UNEXPLAINED],
  ["the same where one slip of the voice is supposed already", SECOND_SLIP],
  ["so much likelier a pair of slips has to be than any one change", PAIR_GAINS],
  ["each further voice in which a sign of mensuration is wrong alike", WRONG_ALIKE],
  ["so much better the page has to read before anything is proposed", LEAST_EVIDENCE],
  [
    `so much more for a shift of pitches, in pieces of more than ${SMALL_PIECE} signs, each time they are e times as many`,
    SHIFT_BY_SIZE,
  ],
  [
    "so much likelier it has to be than the page as it is, its price included, where the voices meet as it is",
    LEAST_GAIN,
  ],
  ["the same for a shift of pitches, half of what it would cost then to go back added", LEAST_GAIN_OF_SHIFT],
  ["so much better the changed voice has to lie against the others before all are read with it", WORTH_A_TRIAL],
  ["a shift of pitches by anything but a third", SHIFT_BY_NO_THIRD],
  ["each note of a shift of pitches that ends at no clef or line end", SHIFT_GOES_ON],
  ["each end of a shift of pitches that stands at no clef or line end", SHIFT_WITHOUT_CLEF],
  ["a shift of pitches of anything but whole lines: a clef is misread for a line, as a rule", SHIFT_OF_NO_LINE],
  ["so much at most the leaps at the ends of a shift of pitches count towards its being proposed", SHIFT_BY_LEAPS],
  ["each step by which a passage leaves the compass of the rest of its voice", BEYOND_RANGE],
  ["each diminished or augmented fifth or fourth with the lowest voice, where pitches are in question", FALSE_FIFTH],
  ["a shift of pitches where the voices do not meet, nor do with it", SHIFT_LEAVES_APART],
  ["a shift of pitches may make all voices, read together with it, dearer by", SHIFT_DEARER],
  ["moves of two voices that weigh as much as what they would do by chance, for parallels", PARALLELS_SUPPOSED],
  ["intervals of the piece itself that weigh as much as what is usual of its practice", OWN_SOUND_AFTER],
  ["how far it counts that the piece puts the same figures after each other elsewhere", HABIT_WEIGHT],
  ["how much the other voices count in that", OTHERS_HABITS],
  ["how far it counts where in the measure the piece puts its figures", METRE_WEIGHT],
  [
    "how far it counts how these voices would sing what was left out, against the leap that stands there",
    MELODY_WEIGHT,
  ],
  ["all voices meet at their finals with the change (it speaks for it)", MEETS_AGAIN],
  ["one more note agrees with its fellows in the tenor's other statements (it speaks for it)", REPEAT_AGREES],
  ["one place more at which the statements of a tenor are written alike (it speaks for it)", STATEMENTS_DIFFER],
  ["a passage that stands twice, less a half for each of its notes up to six", SHORT_COPY],
  ["a coloured run that does not last whole units of its largest note", RUN_NOT_WHOLE],
  [
    "one that does, but is neither threes of a value nor a pair that stands for a dotted note and a small one",
    RUN_MIXED,
  ],
  ["a single note that joins a coloured run", RUN_CUT_SHORT],
  ["a coloured run in a page that colours no other note", NO_OTHER_COLOUR],
  ["a custos that stands at another height than the note it foretells", CUSTOS_WRONG],
  ["a rest one too many: what any rest costs, since nothing tells what a scribe would put there", REST_TOO_MANY],
  ["emendations less likely than the best by more than this are not shown", SHOWN_WITHIN],
  [
    "another place is shown before other repairs of the best one if it is less likely by no more than",
    OTHER_PLACE_WITHIN,
  ],
  ["how far it counts how the voice lies against the others, read without it", LAID_AGAINST],
  ["how far it counts how all voices read anew", READ_ANEW],
  ["how far it counts what the others sound with a note that is supplied, all its pitches together", SUPPLIED_SOUND],
  ["lost passages within so many signs are one", LOST_WITHIN],
  ["a copy that goes has other words than what it copies: it is none", WORDS_LOST],
  ["each further note without words of a copy, as a part of what the first says", WORDLESS_RUN],
  ["what stands before figures counts in full where it takes away this share of their surprise", WELL_FORETOLD],
]

export function emendWeights(): string {
  const kinds = EMENDATION_KINDS.map(kind => `| \`${kind}\` | ${SLIP_COSTS[kind]} |`)
  const rows = ROWS.map(([what, value]) => `| ${what} | ${value} |`)
  return [
    HEAD,
    ["| repair | the slip costs |", "|---|---|", ...kinds].join("\n"),
    ["| | |", "|---|---|", ...rows].join("\n"),
  ].join("\n\n")
}
