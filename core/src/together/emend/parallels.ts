/**
 * Unisons, fifths and octaves that follow each other in two voices that move together. From 1400 on they were avoided
 * (common practice), before that they are as frequent as may be; a misread clef makes them out of thirds, or thirds out of
 * them. How often these very voices have them, and would have them if one stood a third higher or lower, says which it is.
 */
import { TEMPER } from "../../counterpoint/index.js"
import { PARALLELS_SUPPOSED } from "./weights.js"

const FIFTH = 4
/** Steps by which voices are moved to see what would be heard by chance. */
const MOVED = [-2, 2]

/** A voice with what is heard beside it as each of its notes begins: staff steps, NaN for what is silent. */
export interface Beside {
  readonly steps: readonly number[]
  readonly others: readonly (readonly number[])[]
}

export class Parallels {
  private readonly parallel: number
  private readonly other: number

  /** `voices`: all voices of the piece. */
  constructor(voices: readonly Beside[]) {
    const share = (by: number): readonly [found: number, of: number] => {
      const all = voices.flatMap(({ steps, others }) =>
        steps.map((_, at) => movesAt(steps, others, at).map(move => isParallel(move, by))).flat(),
      )
      return [all.filter(Boolean).length, all.length]
    }
    const [own, ownOf] = share(0)
    const [chance, chanceOf] = MOVED.map(share).reduce(([a, b], [c, d]) => [a + c, b + d])
    const usual = (chance + 1) / (chanceOf + 10)
    const here = (own + PARALLELS_SUPPOSED * usual) / (ownOf + PARALLELS_SUPPOSED)
    this.parallel = TEMPER * Math.log(usual / here)
    this.other = TEMPER * Math.log((1 - usual) / (1 - here))
  }

  /** By how much rarer (+) or commoner (-) than by chance it is what the voice does from its note before to this one. */
  cost({ steps, others }: Beside, at: number, by: number): number {
    let cost = 0
    for (const move of movesAt(steps, others, at)) cost += isParallel(move, by) ? this.parallel : this.other
    return cost
  }
}

/** From one note to the next: of the voice, and of another that moves with it. */
interface Move {
  readonly own: readonly [number, number]
  readonly other: readonly [number, number]
}

function movesAt(steps: readonly number[], others: Beside["others"], at: number): Move[] {
  const own = [steps[at - 1] ?? Number.NaN, steps[at]!] as const
  if (!isMove(own)) return []
  return others[at]!.flatMap((step, voice): Move[] => {
    const other = [others[at - 1]![voice]!, step] as const
    return isMove(other) ? [{ own, other }] : []
  })
}

/** False where it is silent before or after. */
const isMove = ([a, b]: readonly [number, number]): boolean => Math.abs(b - a) > 0

function isParallel({ own: [a, b], other: [x, y] }: Move, by: number): boolean {
  const now = b + by - y
  const within = Math.abs(now) % 7
  return (within === 0 || within === FIFTH) && (now - (a + by - x)) % 7 === 0
}
