/** The price of how a run at the modus was opened, known when the run ends. */
import { groupPreference, SHORTENED, TEMPUS_LEVEL, type GroupRule, type Preference } from "../practices/index.js"
import type { LatticeInput } from "./lattice-parts.js"

/** One breve before a two-breve rest: joins the rest, unless that leaves one over after it. Counted habit (theory: observed). */
const JOINS_FOLLOWING: Preference = { whole: 1.2, short: 0 }
const JOINS_REST: Preference = { whole: 0, short: 0.6 }

export class RunWeights {
  private readonly rule: GroupRule
  private readonly known = new Map<number, Preference>()

  constructor(private readonly input: LatticeInput) {
    this.rule = input.settings["groupRule.modus"] as GroupRule
  }

  price(opening: number, opener: number, counted: number, alterable: boolean, until: number): number {
    const preference = this.preference(opener, counted, alterable, until)
    if (opening !== SHORTENED) return preference.whole
    return preference.short - (this.leavesOneOver(counted, until) ? this.input.practice.weights.likeModus - 0.5 : 0)
  }

  /**
   * Five, eight, eleven: the older counting shortens the first long and, by the last breve, the long that follows, even
   * before another long (Ars cantus mensurabilis, c. 1280, V: the closing long is imperfected by what is left over).
   */
  private leavesOneOver(counted: number, until: number): boolean {
    if (this.input.practice.unit !== "tempus" || this.rule !== "first-imperfect") return false
    const { figures, mensuration } = this.input
    const units = counted / mensuration.full[TEMPUS_LEVEL]!
    const like = figures[until + 1]
    return units >= 5 && units % 3 === 2 && figures[until]?.level === 1 && like !== undefined && like.level <= 1
  }

  private preference(opener: number, counted: number, alterable: boolean, until: number): Preference {
    const { figures, mensuration } = this.input
    const units = counted / mensuration.full[TEMPUS_LEVEL]!
    if (units === 1 && figures[until]?.shortLongRest === true) {
      const after = figures[until]!.runs[1]?.units ?? 0
      return Math.round(after) % 3 === 1 ? JOINS_FOLLOWING : JOINS_REST
    }
    const startsWithRest = figures[opener]?.runs[1]?.startsWithRest ?? false
    const key = counted * 4 + (alterable ? 1 : 0) + (startsWithRest ? 2 : 0)
    let found = this.known.get(key)
    if (found === undefined)
      this.known.set(key, (found = groupPreference(this.rule, 1, { units, alterable, startsWithRest, until })))
    return found
  }
}
