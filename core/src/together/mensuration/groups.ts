/** How many breves a run of plain semibreves may stand for, by the sizes of groups that a practice uses. */
import type { GroupChances } from "./onward.js"
import { BREVE } from "./measures.js"
import { SINGLE } from "./weights.js"

export function groupChances(sizes: Readonly<Record<number, number>>): GroupChances {
  const known = new Map<number, readonly number[]>()
  return (members, divisions, nearBreve) => {
    if (members === 1)
      return divisions[BREVE] === 3 && nearBreve ? [SINGLE.shortens, SINGLE.stands] : [0, SINGLE.stands]
    let found = known.get(members)
    if (found === undefined) known.set(members, (found = sharedOut(members, sizes)))
    return found
  }
}

/** By number of breves: the share of all ways to part the run into so many groups. */
function sharedOut(members: number, sizes: Readonly<Record<number, number>>): readonly number[] {
  const parts = Object.entries(sizes).map(([size, weight]) => [Number(size), weight] as const)
  // ways[n][breves]: weight of all ways to part n semibreves into so many groups
  const ways: number[][] = [[1]]
  for (let n = 1; n <= members; n++) {
    const own: number[] = []
    for (const [size, weight] of parts)
      ways[n - size]?.forEach((before, breves) => {
        own[breves + 1] = (own[breves + 1] ?? 0) + before * weight
      })
    ways.push(Array.from(own, one => one ?? 0))
  }
  const last = ways[members]!
  const all = last.reduce((sum, one) => sum + one, 0)
  return all > 0 ? last.map(one => one / all) : [0, 1]
}
