/**
 * Every weight by which practices and mensurations are found out, in one place (docs/weights.md shows them). Chances are
 * from 0 to 1; weights are natural logarithms of odds. Where nothing else is said they are estimates, set from what the
 * treatises and the counted habits call usual or rare and tried on invented voices; none was fitted to a piece.
 */
import type { Divisions } from "../../practices/index.js"

/** How welcome a note is at a place of the measure, beside one that begins its own cell (1). */
export const PLACE = {
  /** It begins off every cell of its own size: syncopation. Maxima, longa, brevis, semibrevis, and all smaller. */
  off: [0.1, 0.1, 0.1, 0.15, 0.07],
  /** It stands a unit after the beginning of its perfection, shortened from the front. */
  ante: 0.3,
  /** The same, a remote part. */
  antePart: 0.05,
} as const

/** What a dot is worth at its place, beside the plain chance of a dot. */
export const DOT = {
  /** A dot of division where a perfection ends. */
  division: 2,
  perfection: 0.6,
  /** Half is added, at the beginning of a larger cell and elsewhere. */
  addition: 1.4,
  additionElsewhere: 0.6,
  /** The file says that half is added to a note that is perfect. */
  againstTable: 0.1,
  /** It can be nothing that is taught. */
  nothing: 0.03,
} as const

/** Chances of durations. None looks further ahead than the next sign: what a choice leads to is seen when it comes. */
export const LENGTH = {
  /** At the beginning of its perfection, a smaller one following, a note loses a third. */
  short: 0.5,
  /** A whole note at the beginning of its perfection keeps its length before its like. */
  likeWhole: 0.985,
  /** The second of two is doubled: weighed by what has to follow it; where it is not. */
  altered: 0.5,
  notAltered: 0.7,
  /** A note that stands where it may be shortened from the front is. */
  ante: 0.9,
  /** The same before its like: below the modus, and at it. */
  anteBeforeLike: 0.3,
  anteBeforeLikeAtModus: 0.8,
  /** One or two remote parts are lost. */
  parts: [0.35, 0.12],
} as const

/** A stroke of division, or the end of a section, where a perfection is full and where none is. */
export const WALL_FULL = 1.5
export const WALL_OPEN = 0.03
export const SECTION_OPEN = 0.25
export const SECTION_AT_BREVE = 0.6
/** Chance, at each note, that counting begins again: a slip of the scribe, or something that is not understood. */
export const SLIP = 0.004
/** Share of invented habits mixed into the voice's own shares of levels. */
export const SMOOTHING = 0.5

/** Sizes of groups of plain semibreves on one breve, relative: about 1300, and in 1315-25. */
export const GROUPS = {
  few: { 2: 1, 3: 0.8 },
  many: { 2: 1, 3: 0.8, 4: 0.2, 5: 0.12, 6: 0.08, 7: 0.04 },
  unwritten: { 2: 1, 3: 1, 4: 0.9, 5: 0.3, 6: 0.3 },
} as const
/** A semibreve by itself shortens a breve beside it, in perfect tempus; or stands for a breve by mistake. */
export const SINGLE = { shortens: 0.8, stands: 0.05 } as const

/** Inner signs, which the places of the notes do not show. */
export const SIGNS = {
  /** A rest of three spaces. */
  threeSpaces: 4,
  /** A rest of two spaces, where there are none of three. */
  twoSpaces: -0.7,
  /** Two rests of the same size side by side at one height. */
  hangingRests: 0.8,
  /** The file gives a note as perfect, or as doubled in a perfection. */
  given: 5,
  /** Coloured notes come in threes: what they are a third less of is perfect. */
  colouredThrees: 1.5,
  /** A pair of plain semibreves of which one bears a stem. */
  stemmedPair: 4,
  /** A group of plain semibreves by its size, for perfect tempus; and all of them. */
  groupOf: { 2: 0, 3: 0.5, 4: -0.7, 5: -0.4, 6: 0.1 },
  mostOfGroups: 0.4,
} as const
/** So often is a kind of inner sign counted at most: a habit of the scribe is one fact. */
export const MOST_SIGNS = 3

/** Likelihoods are brought down by this: notes of one voice repeat each other, so they are not so many witnesses. */
export const TEMPER = 0.45
/** No voice is surer than this, however much speaks for it. */
export const LEAST_WRONG = 0.004

/** How often the voices of one piece agree in a level (their common measure, of which a voice may depart). */
export const AGREE: Readonly<Record<keyof Divisions, number>> = {
  modusMaior: 0.95,
  modusMinor: 0.9,
  tempus: 0.96,
  prolatio: 0.97,
}
/**
 * A voice turns tempus and prolation round, perfect and minor against imperfect and major: then minims and breves of both
 * are as long (common practice of the fourteenth century, from memory), which a departure in one level would not give.
 */
export const SAME_BREVE = 0.04
/** A voice read by itself has just the length of the piece, under the right mensuration. */
export const RIGHT_LENGTH = 0.6
/**
 * Else it is mostly a little longer or shorter, by at most one in so many, and has one of so many lengths; seldom it is far off,
 * and then has any of those that a voice might have by chance.
 */
export const NEAR_LENGTH = { oneIn: 24, share: 0.8, lengths: 20 } as const
export const CHANCE_LENGTHS = 60
/** Of a mensuration whose length was not worked out: between a length that fits and one that does not. */
export const LENGTH_NOT_KNOWN = 0.03

/**
 * Lengths are worked out only for mensurations that have at least this chance, and for so many that differ; of a voice that is as
 * long as no other under any of them, for more.
 */
export const LENGTHS = { leastChance: 0.02, most: 4, leastOfMore: 1e-5, mostOfMore: 8 } as const

/**
 * The voices are heard under common measures of at least this chance, and under so many that differ. What their search costs
 * is a logarithm of odds already, brought down as far as the piece's own intervals may be trusted. Four are all divisions of
 * two levels, mostly modus and tempus, that are open. What the one costs more than the best counts up to so much: about one
 * page in fifty is such that its voices do not meet by what was meant.
 */
export const SOUND = { leastChance: 0.05, most: 4, counts: 4 } as const

/**
 * A voice is heard under measures that depart from those of the others, of at least this chance, and of a piece so many of
 * them (of a long one fewer, since each search takes long). What that costs more or less counts up to so much: a slip of the
 * pen parts voices too.
 */
export const APART = { leastChance: 0.05, most: 6, mostOfLong: 2, mostTogether: 8 } as const

/** Custom: how common the levels are, before a note is looked at. */
export interface Custom {
  readonly modusMaior: number
  readonly modusMinor: number
  /** Of perfect tempus with minor and major prolation, of imperfect with both. */
  readonly tempora: { readonly "3.2": number; readonly "3.3": number; readonly "2.2": number; readonly "2.3": number }
}
export const CUSTOM: Readonly<Record<string, Custom>> = {
  "ars-antiqua": {
    modusMaior: 0,
    modusMinor: 0.99,
    tempora: { "3.2": 1, "3.3": 0, "2.2": 0, "2.3": 0 },
  },
  "ars-nova-early": {
    modusMaior: 0.05,
    modusMinor: 0.45,
    tempora: { "3.2": 0.27, "3.3": 0.07, "2.2": 0.44, "2.3": 0.22 },
  },
  "ars-nova": { modusMaior: 0.07, modusMinor: 0.35, tempora: { "3.2": 0.2, "3.3": 0.1, "2.2": 0.2, "2.3": 0.5 } },
  // where the tempus has its sign, a modus without one is mostly imperfect
  "ars-nova-signed": { modusMaior: 0.03, modusMinor: 0.2, tempora: { "3.2": 0.2, "3.3": 0.1, "2.2": 0.2, "2.3": 0.5 } },
  white: { modusMaior: 0.01, modusMinor: 0.02, tempora: { "3.2": 0.09, "3.3": 0.02, "2.2": 0.85, "2.3": 0.04 } },
}

/**
 * Changes within a voice: the price of one anywhere, and where the page cuts the voice or the colour changes (against
 * odds that are not brought down); the least gain and length of a stretch, and what speaks against it before it is seen.
 */
export const CHANGE = { anywhere: 10, atSection: 5, least: 8, before: 3, leastTokens: 8 } as const

/**
 * Turns of voices that no sign states, one voice or all at once, once or several times. Gains are natural logarithms of odds
 * that are not brought down; what all voices cost together is one that is brought down already.
 */
export const TURN = {
  /** What speaks against one beforehand: few pieces have any, and it may stand anywhere. */
  before: 8.5,
  /** The same of each further turn: a piece that has one may well have more, but these may stand anywhere too. */
  again: 5,
  /**
   * That all voices fit each other better counts so much, and of what goes beyond that a small share, up to so much more: a
   * slip of the pen may part them as well, but a turn mends more than one slip does (set by invented pieces of both kinds). What
   * they gain whichever voice is left out counts in full: no slip in one voice explains it.
   */
  mostTogether: 8,
  beyond: 0.06,
  mostBeyond: 4,
  /** A voice is read by one of which there is less doubt than this. */
  read: 0.05,
  /** One looks again from a turn of which the odds (natural logarithm) are at least so good. */
  likely: 0,
  /** Counting in both mensurations all the time, so much has to be gained; counted anew from the turn on, so much. */
  glimpsed: 2,
  /** So much more, where a voice turns twice, than where it turns once; and so many such ways are looked at. */
  glimpsedAgain: 5,
  mostTwice: 4,
  least: 5,
  /** So many tokens to each side of the best place are looked at, and so many beyond. */
  around: 16,
  ahead: 50,
  /** A turn within a breve; at a breve within a long. */
  open: 0.03,
  atBreve: 0.6,
  /** A voice has no note or rest that begins where all turn. */
  notAtOnce: 6,
  /**
   * A turn of all in the modus alone is heard after these shares of the notes, and then around the best of them, first by so
   * manieth a part of the notes, each time half as far, down to so many notes; but only where the voices do not meet or give up so
   * much of their own rules for it.
   */
  modus: { strain: 3, shares: [0.25, 0.5, 0.75], parts: 8, nearest: 6 },
  /**
   * So many places of a voice are heard, and so many of all voices, where one turns; where all do so many pairs, and moments
   * of each. Less of a piece whose notes, times voices, are so many.
   */
  most: { places: 5, ofOne: 6, pairs: 2, moments: 3, rounds: 3 },
  mostOfLong: { places: 2, ofOne: 2, pairs: 1, moments: 1, rounds: 2 },
  long: 6000,
} as const

/** A reading tells that a voice leaves the mensuration of its sign where there is less doubt of it than this. */
export const LEFT_FOR_CERTAIN = 0.02

/** A declared mensuration is right so often. */
export const DECLARED_RIGHT = 0.985
/** A voice contradicts it when less than this is left of it. */
export const DECLARED_DOUBTED = 0.3

/**
 * A voice misses the others under its own sign, and would meet them under the other tempus or prolation: told where it then has to give
 * up no more of its rules than this, and all sound better by this much, the finals that are no longer missed not counted (a slip may
 * part voices too, and by chance another mensuration makes up for its length; estimates, tried on invented pieces with a wrong sign and
 * with a note left out); not asked of longer pieces.
 */
export const OTHER_SIGN = { bent: 15, sounds: 3, mostNotes: 4000 } as const

/** Of a page without minims: for Ars antiqua (positive) or for plain semibreves of 1315-25; each sign, and all of a kind. */
export const OLD = {
  before: 0.4,
  plica: 0.15,
  mostPlicas: 1.2,
  body: 0.5,
  mostBodies: 1.2,
  stroke: 1,
  mostStrokes: 3,
  /** Plain semibreves stand in twos and threes only. */
  smallGroups: 0.7,
  leastGroups: 5,
  /**
   * A stem down on a semibreve by itself: hardly a page of c. 1300 has one, and many of 1315-25 have (common practice; in the
   * counted motets it marks the longest of a group of plain semibreves).
   */
  stem: -2,
  mostStems: -3.5,
  /** Red notes that mean something are described from c. 1320 on (Ars nova, 19), and are then as telling as those stems. */
  colour: -0.7,
  mostColour: -3.5,
  /**
   * What makes a voice so many times as fast: no writer on Ars antiqua knows it, those from c. 1340 on do (Libellus cantus
   * mensurabilis, on diminution of tenors).
   */
  faster: -3,
  mostFaster: -4,
  sign: -1.5,
  mostSigns: -4,
  /**
   * A prolation or a breve of two parts that the file states: as likely in Ars antiqua as that such a statement is wrong. Its breve holds
   * three semibreves and these hold nothing less (Ars cantus mensurabilis, c. 1280, on semibreves; chapter from memory).
   */
  stated: -Math.log(DECLARED_RIGHT / (1 - DECLARED_RIGHT)),
  modusPerfect: 0.7,
  mostModus: 4,
  /**
   * Where the practice is in doubt from this on, all voices are read together in both; of what the one costs less this
   * share is taken, and so much at most. The prices of two practices are no strict odds against each other: those of Ars
   * antiqua are taken to be dearer by this for each note, which lies halfway between invented pieces of both.
   */
  dearerByNote: 0.08,
  heardFrom: 0.02,
  byEar: 0.15,
  /** Longer pieces say no more than one of so many notes: that by which one practice is dearer is the same for each note. */
  heardNotes: 150,
  mostByEar: 3,
  /** Share of minims up to which they may be a later hand's. */
  strayMinims: 0.02,
  /** Doubt that is left where shapes leave none. */
  certainDoubt: 0.01,
  /** Year in which as much is written in the one way as in the other, and in how many years the odds rise by e. */
  between: 1314,
  within: 4,
} as const

/**
 * Of a page with minims of whose heads nothing is said: for white notation (positive) or for Ars nova. Fusae, strokes through
 * signs and blackening are of the fifteenth century (theory of the time passim); names and numbers of voices are common
 * practice.
 */
export const LATE = {
  before: -2.2,
  fusae: 4.4,
  cut: 2,
  blackened: 2,
  red: -2,
  names: 2.5,
  many: 1,
  between: 1435,
  within: 6,
} as const
/** A year that the file states says no more than this. */
export const DATED = 4
/** Of the notes, so many are read otherwise in white notation than in Ars nova under the same mensuration, at most. */
export const READ_OTHERWISE = 0.05
