/**
 * Groups of semibreves on one breve: how the breve is shared out. Before the Ars nova every semibreve is read so; in its
 * first years (c. 1315-25) the plain semibreves, minims not yet being drawn as such.
 */
import type { GroupSituation, GroupValues, Rule, RuleId, Source } from "./types.js"
import type { Figure } from "./figures.js"

type Parts = readonly (readonly [number, number])[]
const over = (den: number, ...nums: number[]): Parts => nums.map(n => [n, den] as const)
const EQUAL: readonly Parts[] = Array.from({ length: 10 }, (_, n) => Array.from({ length: n }, () => [1, n] as const))
const equal = (n: number): Parts => EQUAL[n] ?? Array.from({ length: n }, () => [1, n] as const)
const MINOR_MAIOR = over(3, 1, 2)
const MAIOR_MINOR = over(3, 2, 1)
const ALONE = over(3, 1)

const members = (g: GroupSituation): readonly Figure[] => g.figures.slice(g.from, g.from + g.size)
/** The same few shapes come again and again in a voice: each is made once, so `parts` has to be one of the tables' own. */
const known = new WeakMap<Parts, Map<RuleId, GroupValues>>()
function ruled(parts: Parts, rule: RuleId): GroupValues {
  let byRule = known.get(parts)
  if (byRule === undefined) known.set(parts, (byRule = new Map()))
  let values = byRule.get(rule)
  if (values === undefined) byRule.set(rule, (values = { parts, rules: parts.map(() => rule) }))
  return values
}
const tailed = (f: Figure): boolean => f.stemDown || f.stemOblique

/** How many of the group have a tail; nearly all groups have none, and these cost no list. */
function countTailed({ figures, from, size }: GroupSituation): number {
  let count = 0
  for (let at = from; at < from + size; at++) if (tailed(figures[at]!)) count++
  return count
}

/** Two on a breve: lesser, then greater (Ars cantus mensurabilis, c. 1280, V). */
export function pairOnBreve(...sources: Source[]): Rule {
  return {
    id: "semibrevis-minor-maior",
    sources,
    group(g) {
      if (g.size !== 2) return undefined
      if (g.mensuration.tempus === 2 || g.settings["pairOrder"] === "equal") return ruled(equal(2), this.id)
      const [first, second] = [g.figures[g.from]!, g.figures[g.from + 1]!]
      const restLong = first.rest
        ? first.full * 3 > 1.5 * g.mensuration.full[2]!
        : second.rest && second.full * 3 < 1.5 * g.mensuration.full[2]! && second.fixed !== undefined
      const maiorFirst = g.settings["pairOrder"] === "maior-minor" || restLong
      return ruled(maiorFirst ? MAIOR_MINOR : MINOR_MAIOR, this.id)
    },
  }
}

/** Three on a breve are equal. */
export function threeOnBreve(...sources: Source[]): Rule {
  return {
    id: "semibreves-aequales",
    sources,
    group: g => (g.size === 3 ? ruled(equal(3), "semibreves-aequales") : undefined),
  }
}

/** A slanting tail under a rhomb marks the greater, wherever it stands (Regule cum maximis, 1326, IV.9). */
export function tailMarksMaior(...sources: Source[]): Rule {
  return {
    id: "stem-lengthens",
    sources,
    group(g) {
      if (g.size > 3 || countTailed(g) === 0) return undefined
      const parts = partsByTail(members(g))
      return (
        parts && {
          parts,
          rules: members(g).map(f =>
            tailed(f) ? "stem-lengthens" : g.size === 2 ? "semibrevis-minor-maior" : "semibreves-aequales",
          ),
        }
      )
    },
  }
}

function partsByTail(figures: readonly Figure[]): Parts | undefined {
  const at = figures.findIndex(tailed)
  if (figures.filter(tailed).length !== 1) return undefined
  if (figures.length === 2) return over(3, ...figures.map((_, i) => (i === at ? 2 : 1)))
  return figures.length === 3 ? over(6, ...figures.map((_, i) => (i === at ? 4 : 1))) : undefined
}

/** Four to nine on a breve, about 1300. */
const NINTHS: Record<number, Parts> = {
  4: over(9, 1, 2, 3, 3),
  5: over(9, 1, 2, 1, 2, 3),
  6: over(9, 1, 2, 1, 2, 1, 2),
  7: over(9, 1, 2, 1, 2, 1, 1, 1),
  8: over(9, 1, 2, 1, 1, 1, 1, 1, 1),
  9: equal(9),
}
const MINUTAE_LAST: Record<number, Parts> = { ...NINTHS, 4: over(9, 3, 3, 1, 2), 5: over(9, 3, 1, 2, 1, 2) }
const EQUAL_MINUTAE: Record<number, Parts> = { 4: over(6, 2, 2, 1, 1), 5: over(6, 2, 1, 1, 1, 1) }
const TWELFTHS: Record<number, Parts> = {
  4: over(12, 2, 2, 4, 4),
  5: over(12, 2, 2, 2, 2, 4),
  6: equal(6),
  7: over(12, 1, 1, 2, 2, 2, 2, 2),
  8: over(12, 1, 1, 1, 1, 2, 2, 2, 2),
  9: over(12, 1, 1, 1, 1, 1, 1, 2, 2, 2),
}

export function breveDivided(...sources: Source[]): Rule {
  return {
    id: "brevis-divisa",
    sources,
    group(g) {
      if (g.size < 4 || g.size > 9) return undefined
      const how = g.settings["breveDivision"]
      const table =
        how === "via-naturae" ? TWELFTHS : how === "ninths" ? NINTHS : how === "minutae-last" ? MINUTAE_LAST : undefined
      return ruled(minutaeEqual(g, table?.[g.size]) ?? equal(g.size), this.id)
    },
  }
}

/** Option minutae: the two shortest of a group alike instead of one and two ninths (Summa, c. 1300). */
function minutaeEqual(g: GroupSituation, parts: Parts | undefined): Parts | undefined {
  if (parts === undefined || g.settings["minutae"] !== "equal" || g.settings["breveDivision"] !== "minutae-last")
    return parts
  return EQUAL_MINUTAE[g.size] ?? parts
}

/** A semibreve alone on its breve: an error; it keeps the least value. */
export function loneSemibreve(...sources: Source[]): Rule {
  return {
    id: "semibrevis-sola",
    sources,
    group: g => (g.size === 1 ? ruled(ALONE, "semibrevis-sola") : undefined),
  }
}

/** Via naturae by the breve's least parts (Pomerium, 1318-19): quaternaria, senaria imperfecta and perfecta, novenaria. */
const NATURE: Record<string, Record<number, Parts>> = {
  "22": { 2: equal(2), 3: over(4, 1, 1, 2), 4: equal(4) },
  "23": { 2: equal(2), 3: over(6, 3, 2, 1), 4: over(6, 2, 1, 2, 1), 5: over(6, 1, 1, 1, 2, 1), 6: equal(6) },
  "32": { 2: over(3, 1, 2), 3: equal(3), 4: over(6, 1, 1, 2, 2), 5: over(6, 1, 1, 1, 1, 2), 6: equal(6) },
  "33": {
    2: over(3, 1, 2),
    3: equal(3),
    6: over(9, 1, 2, 1, 2, 1, 2),
    7: over(9, 1, 1, 1, 2, 1, 2, 1),
    8: over(9, 1, 1, 1, 1, 1, 1, 2, 1),
    9: equal(9),
  },
}

/** Plain semibreves of c. 1315-25 whose minims are not drawn. */
export function viaNaturae(...sources: Source[]): Rule {
  return {
    id: "via-naturae",
    sources,
    group(g) {
      if (g.size < 2 || g.size > 9) return undefined
      const perfect = g.mensuration.divisions[2] === 3
      if (g.size === 2) return ruled(perfect ? MINOR_MAIOR : equal(2), this.id)
      const row = NATURE[`${g.mensuration.divisions[2]}${g.mensuration.divisions[3]}`]?.[g.size]
      return ruled((g.settings["plainGroups"] === "via-naturae" ? row : undefined) ?? equal(g.size), this.id)
    },
  }
}

/** A stem down puts the longer value where art wants it (Pomerium, 1318-19, I.2; counted habit of c. 1315-25). */
export function viaArtis(...sources: Source[]): Rule {
  return {
    id: "via-artis",
    sources,
    group(g) {
      if (g.size < 2 || g.size > 4 || countTailed(g) !== 1) return undefined
      const at = members(g).findIndex(tailed)
      const key = 16 * g.size + 2 * at + (g.mensuration.divisions[2] === 3 ? 1 : 0)
      if (!byArt.has(key)) byArt.set(key, valuesByArt(g, at))
      return byArt.get(key)
    },
  }
}

/** Made once for each number, place of the stem and tempus. */
const byArt = new Map<number, GroupValues | undefined>()

function valuesByArt(g: GroupSituation, at: number): GroupValues | undefined {
  const parts = partsByArt(g, at)
  const rules = members(g).map((_, i) => (i === at ? "via-artis" : g.size === 2 ? "as-written" : "via-naturae"))
  return parts && { parts, rules }
}

function partsByArt(g: GroupSituation, at: number): Parts | undefined {
  const perfect = g.mensuration.divisions[2] === 3
  const rest = g.size - 1
  const shared = (long: number, den: number): Parts =>
    Array.from({ length: g.size }, (_, i) => (i === at ? ([long, den] as const) : ([den - long, den * rest] as const)))
  if (g.size === 2) return perfect ? shared(2, 3) : undefined
  if (g.size === 3) return perfect ? shared(2, 3) : shared(1, 2)
  return shared(1, 2)
}
