/**
 * All numbers that find and rank emendations: natural logarithms of odds. How common a kind of slip is at one place where
 * it could be made began as an estimate from what the handbooks of editing say of scribes. It and the shares in which the
 * terms of the ranking are added up (`rank.ts`) were then moved by hand towards what a log-linear model of some 176 slips
 * planted in invented pieces asked for (seeds from 500000 and 530000), those of dots lost and of habits again towards what
 * another 101 in invented pieces and demos did (seeds from 41000 and 42000), those of runs without colour what 26 did (seeds
 * from 91000), those of shifted pitches towards what 110 shifts and as many sound pieces did (seeds from 200000), those of
 * their ends what another 110 did (seeds from 201000, 202000 and 203000), and what stems, notes, dots and colour cost as slips
 * towards what 315 slips of all kinds did (seeds from 210000, 211000 and 212000): by a fifth of them tried on the model of the
 * others, 191 instead of 186 of 256 had the true repair first. What a lost dot costs was lowered by what 245 slips of eleven kinds said
 * (seeds from 233000 to 238000): by a fifth of their pieces tried on the others, 190 instead of 181 had the true repair first. What slips of most kinds
 * cost, what leaps say, and how far each way to weigh a change counts were set anew by a log-linear model of 892 slips of twelve kinds,
 * every kind counted alike (seeds from 310000 to 319999): by a sixth of their pieces tried on the others, 691 instead of 640 had the true
 * repair first. docs/emendations.md tells how it fares with others. The least
 * evidence and gain were set by what sound pieces show (176 from seeds 211000, 216000 and 218000 on). docs/weights.md prints them.
 */
import type { EmendationKind } from "./types.js"

/** By kind of repair, what the slip that it mends costs. */
export const SLIP_COSTS: Readonly<Record<EmendationKind, number>> = {
  "dot-added": 3.4,
  "dot-dropped": 5.2,
  "dot-moved": 4.6,
  "stem-added": 4.5,
  "stem-dropped": 5.1,
  "level-changed": 6.8,
  "rest-changed": 4.8,
  "note-missing": 7.2,
  "note-doubled": 6.9,
  "pitch-shifted": 4.5,
  "coloration-missing": 0.9,
  "passage-missing": 11,
  "passage-doubled": 7.5,
  "mensuration-missing": 9,
  "ligature-changed": 4.5,
}

/**
 * What each further voice costs in which a sign is wrong alike: one in twenty slips with a sign is made throughout (an estimate; who
 * keys a page gives every voice the sign he has read in one).
 */
export const WRONG_ALIKE = 3

/** What the voices' parting for a reason not known costs: dearer than any common slip. */
export const UNEXPLAINED = 12
/**
 * The same where one slip is supposed already: what a common slip costs, so that a stretch between two slips that make up for each
 * other is noticed (an estimate).
 */
export const SECOND_SLIP = 6
/** By so much a pair of slips has to be likelier than any one change: as much as one slip has to be likelier than none. */
export const PAIR_GAINS = 5

/** By so much the page has to read better with a change before anything is proposed (its price as a slip left out). */
export const LEAST_EVIDENCE = 5.5
/** And it has to be likelier than the page as it is by this much, its price included (where the voices meet as it is). */
export const LEAST_GAIN = 5
/**
 * The same for a shift of pitches, what it would cost to go back added: of the many passages of a voice one sounds better elsewhere
 * by chance. Of 16 shifts (seeds from 213000) all had more than 6, of 14 others (from 234000) all had 10 and more, of nine in two
 * madrigals all had 8 and more; of seven passages that had 4 and more without this in 275 sound pieces one had 7.
 */
export const LEAST_GAIN_OF_SHIFT = 7
/** Laid against the others it has to read better by this much before all voices are read with it. */
export const WORTH_A_TRIAL = 2.5
/**
 * By so much more than other changes a shift of pitches has to sound better and to gain, in pieces of more than so many signs each
 * time they are e times as many: the best of many passages is seldom without some gain, and there are more in a longer piece.
 */
export const SHIFT_BY_SIZE = 1.5
export const SMALL_PIECE = 250
/** Emendations less likely than the best of their step by more than this are not shown. */
export const SHOWN_WITHIN = 7
/** Lost passages within so many signs of each other are one: nothing but leaps and discords tells where it stood. */
export const LOST_WITHIN = 3
/** Of another place one is shown before what else would mend the best place if it is less likely by no more than this (1 : 55). */
export const OTHER_PLACE_WITHIN = 4

/** How far what the piece does elsewhere counts, how much of that the other voices' ways do, and what is not seen yet. */
export const HABIT_WEIGHT = 0.6
export const OTHERS_HABITS = 0.5
export const SMOOTHING = 3

/**
 * What stands before a figure counts in full from where it takes away this share of the surprise of the voice's figures: in
 * tenors that repeat themselves and in two madrigals of 1582 it was a third and more, in invented rhythms less than a tenth
 * (counted once, by hand). An estimate.
 */
export const WELL_FORETOLD = 0.25

/**
 * By the make of a coloured run (estimates; colour takes three for two as a rule). To forget one is a single slip, and a common one
 * beside the few runs of a page: how rare coloured notes are is not counted note by note.
 * A coloured run that does not last whole units of its largest note; one that does, but is neither threes of a value nor a pair.
 */
export const RUN_NOT_WHOLE = 5
export const RUN_MIXED = 3
/**
 * A coloured run in a page that colours no other note: few pages have just one run (an estimate), and the model of all kinds took slips
 * of colour to be as common as others, though one in six of its pieces has any colour at all (8 of 49; ln 6 = 1.8).
 */
export const NO_OTHER_COLOUR = 4
/** A single note that joins a coloured run: whoever fills heads leaves out a run rather than a note of it. */
export const RUN_CUT_SHORT = 3

/** How far it counts where in the measure the piece puts its figures, and what is not seen yet. */
export const METRE_WEIGHT = 0.5
export const METRE_SMOOTHING = 4

/** How far it counts what the others sound with a note that is supplied, whatever its pitch was. */
export const SUPPLIED_SOUND = 0.6

/** How far it counts how likely these voices would sing what a note or passage left out makes of a leap: as the odds that it is. */
export const MELODY_WEIGHT = 1

/** What it says that with a change all voices meet at their finals, beside what the search over all voices makes of it. */
export const MEETS_AGAIN = 3
/**
 * How far the two ways to weigh a change count: the voice laid against the others as they were read without it, by what these very
 * voices do; and all voices read anew.
 */
export const LAID_AGAINST = 0.8
export const READ_ANEW = 0.4

/** What it says that one more note of a tenor agrees with its fellows in the other statements, and how many are counted. */
export const REPEAT_AGREES = 1.5
export const MOST_REPEATS = 3

/** A custos that stands at another height than the note it foretells: about one in fifty does. */
export const CUSTOS_WRONG = 4

/** One place of the tenor more at which all statements are written alike. */
export const STATEMENTS_DIFFER = 3

/**
 * A change by which a voice no longer rests as long as all others do there: where a rest is wrong, that all of them have just that
 * rest at that very place would be chance (an estimate: one in a hundred; general rests are common practice).
 */
export const GENERAL_REST_SPOILT = 4.6

/** That a rest is one too many: nothing tells what a scribe would put there, so it costs what any rest does. */
export const REST_TOO_MANY = 3.5

/** Each end of a shift of pitches that stands at no clef or line end. */
export const SHIFT_WITHOUT_CLEF = 0.5
/** A shift of anything but whole lines: a clef is misread for a line, as a rule. */
export const SHIFT_OF_NO_LINE = 1
/**
 * Each note more of a shift that ends at no clef or line end: its scribe notices it at any note as well as at another, about one in
 * fourteen.
 */
export const SHIFT_GOES_ON = 0.07
/**
 * By so much a shift may make all voices dearer when they are read together with it: of 220 that were mended in invented pieces three
 * in a hundred did by more. What it is more speaks against it: where another slip has put the voices out of step, many a passage
 * would sound better elsewhere.
 */
export const SHIFT_DEARER = 3
/**
 * A shift where the voices do not meet, nor do with it: it moves no time, so that something else has to be mended first, and
 * passages that are out of step sound better elsewhere (an estimate). What is shifted beside that is found at the next step.
 */
export const SHIFT_LEAVES_APART = 6
/**
 * So much at most the leaps at the ends of a shift count towards its being proposed: sound voices leap too, and somewhere two such
 * leaps stand about a passage. Where it begins and ends they tell in full.
 */
export const SHIFT_BY_LEAPS = 3
/** A shift by anything but a third, as from one line to the next. */
export const SHIFT_BY_NO_THIRD = 2

/** Each step by which a passage leaves the compass of the rest of its voice (an estimate: most parts keep within a tenth). */
export const BEYOND_RANGE = 1
/** Each fifth or fourth with the lowest voice that is diminished or augmented (an estimate). */
export const FALSE_FIFTH = 0.8
/** So many moves of two voices weigh as much as what they would do by chance (an estimate). */
export const PARALLELS_SUPPOSED = 20
/** What a passage that stands twice costs more, less a half for each note up to six: short ones do so by chance. */
export const SHORT_COPY = 1
/**
 * A note that goes as a copy though it has a syllable of its own (an estimate: words and notes are written apart, and who copies a
 * passage with its words copies them too).
 */
export const WORDS_LOST = 3
/** So much as the first note without words each further one of a copy says: melismas are long. An estimate. */
export const WORDLESS_RUN = 0.3
