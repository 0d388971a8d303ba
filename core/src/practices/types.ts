/**
 * What a rule and a practice are. A rule is a small named pure object: it proposes durations for a figure at one place
 * in its perfections, and cites its source. The machine that runs rules (`reading/`) knows no treatise.
 */
import type { Counted, Figure, Prices, Seen, SeenBefore, SeenNext, SeenSecond } from "./figures.js"
import type { Mensuration } from "./mensuration.js"

/** Where a rule, an option or a weight is told of. */
export interface Source {
  /** Title and date of the treatise or handbook. */
  readonly treatise: string
  /** Chapter, rule or paragraph. */
  readonly place: string
  /** How sure: read in the source, stated from memory, or an inference needed to make the rule computable. */
  readonly mark: "read" | "memory" | "inference"
}

/** One choice the theory leaves open. The first value is the default unless a practice says otherwise. */
export interface OptionSpec {
  readonly name: string
  readonly values: readonly string[]
  readonly default: string
  readonly meaning: string
  readonly source: string
}

/** By value of an option: what it means, and who says so. */
export type ValuesTold = Readonly<Record<string, readonly [meaning: string, source: string]>>

/**
 * Costs are natural logarithms of odds: a way that is e^3 = 20 times rarer costs 3 more.
 * Counted habits are turned into costs by ln(often / rarely); the rest are estimates, marked so in docs/weights.md.
 */
export type Cost = number

/** How a boundary's perfection was begun at the modus: nobody, a perfect long, an imperfect long. */
export type Opening = 0 | 1 | 2
export const NOBODY = 0
export const WHOLE = 1
export const SHORTENED = 2

export interface Offer {
  readonly rule: RuleId
  /** Ticks that the figure lasts. */
  readonly ticks: number
  readonly cost: Cost
  /** Ticks that it lost at the front and at the end. */
  readonly front: number
  readonly back: number
  /** Ticks that count as written units when a group is counted (an altered note counts once). */
  readonly counted: number
  readonly opening: Opening
  /** What the dot after it is then. */
  readonly dot: DotMeaning
  /** The usual choice for a group of this number was overruled. */
  readonly overruled: boolean
  /** Ticks by which perfections are displaced from here on (a unit is carried). */
  readonly shift: number
  /** Its end need not agree with the perfections (coloured notes, syncopated ones). */
  readonly free: boolean
}

export type DotMeaning = "none" | "division" | "perfection" | "augmentation" | "alteration"

/** One figure at one place of the count: what a rule may look at, and where it lays down its offers. */
export interface Situation {
  readonly figure: Seen
  readonly next: SeenNext | undefined
  /** The figure after the next. */
  readonly second: SeenSecond | undefined
  readonly previous: SeenBefore | undefined
  /** The figure ends a ligature that the one before begins. */
  readonly closesPair: boolean
  /** One of the first two figures of the stretch. */
  readonly atOpening: boolean
  /** The smaller figures that follow, counted in units of `level`; undefined where that is no perfect level or none follow. */
  run(level: number): Counted | undefined
  /** Perfections are displaced here: a unit is being carried. */
  readonly shifted: boolean
  /** A unit is being carried, and the count here is the undisplaced one that it would complete. */
  readonly carrying: boolean
  /** What the dot after the figure before was taken for on the way here. */
  readonly previousDot: DotMeaning
  /** What leaving the figure whole or shortening it costs by its runs; filled in on first use, gone at the next place. */
  prices?: Prices | undefined
  readonly mensuration: Mensuration
  readonly settings: Settings
  readonly weights: Weights
  /** Ticks already filled of the smallest perfection larger than the figure; where there is none, of the largest of all. */
  readonly position: number
  /** Ticks by which the figure stands after the beginning of its own (or its largest part's) perfection. */
  readonly front: number
  offer(rule: RuleId, ticks: number, cost: Cost, more?: Partial<Offer>): void
}

/** A stretch of semibreves read as one breve (or one altera). */
export interface GroupSituation {
  readonly figures: readonly Figure[]
  readonly from: number
  readonly size: number
  readonly mensuration: Mensuration
  readonly settings: Settings
}
/** Values of the group's figures as parts of the whole, and the rule for each. */
export interface GroupValues {
  readonly parts: readonly (readonly [num: number, den: number])[]
  readonly rules: readonly RuleId[]
}

export type RuleId = string

/** A small pure object that proposes durations and says why; it knows nothing of the machine that runs it. */
export interface Rule {
  readonly id: RuleId
  readonly sources: readonly Source[]
  /** Whether it can speak of a figure of this kind at all; may look at level, rest, dot, stroke, colour, local shape, duplex and anchor only. */
  appliesTo?(figure: Seen, mensuration: Mensuration): boolean
  /** It speaks only where the figure begins its (or its largest part's) perfection, or only where it stands within one. */
  readonly at?: "start" | "inside"
  /** Lays down offers for one figure. It is asked once for all places where what it looked at is the same: no memory, no clock. */
  propose?(situation: Situation): void
  /** Values of a group of semibreves on a breve; undefined where the rule does not speak. */
  group?(situation: GroupSituation): GroupValues | undefined
}

/** The rules of a time and a place, with their options and weights. A variant is a changed copy. */
export interface Practice {
  readonly name: string
  readonly title: string
  readonly unit: "minima" | "tempus"
  readonly rules: readonly Rule[]
  readonly options: readonly OptionSpec[]
  readonly weights: Weights
}

/** Options after defaults and inference, as text by name. */
export type Settings = Readonly<Record<string, string>>

/** All costs of a practice, in one place (docs/weights.md says where each comes from). */
export interface Weights {
  /** A perfection is left open and counting starts again. */
  readonly open: Cost
  /** First note carried past its perfection, and each like one after it, at the modus and below. */
  readonly carryModus: Cost
  readonly carry: Cost
  readonly carryOn: Cost
  /** A note imperfected from the front although its like follows. */
  readonly likeModus: Cost
  readonly like: Cost
  /** Imperfection of a part: for the first, and for each further part. */
  readonly part: Cost
  readonly morePart: Cost
  /** Imperfection from the front where the note before could have given. */
  readonly splitUnit: Cost
  /** A smaller note that lies across the end of a perfection. */
  readonly across: Cost
  readonly restAcross: Cost
  /** A voice that ends within a perfection. */
  readonly endOpen: Cost
  /** A dot of division after which no perfection begins. */
  readonly transport: Cost
  /** A stroke that does not close a perfection. */
  readonly strokeOpen: Cost
  /** A dot beside a semibreve that does not close a perfection of longs. */
  readonly softOpen: Cost
  /** A dot read against the table of the dots. */
  readonly dotAgainstTable: Cost
  /** A sign of mensuration in mid-perfection. */
  readonly signOpen: Cost
}
