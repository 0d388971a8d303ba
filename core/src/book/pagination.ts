/** Systems on pages: as few pages as hold them, and those evenly filled. */

export interface Block {
  readonly height: number
  /** Least room to the block before on the same page. */
  readonly gap: number
  /** How many gaps it has within, between its staves; none without it. */
  readonly inner?: number
}
export interface PageOfBlocks {
  /** Numbers of the blocks on it. */
  readonly blocks: readonly number[]
  /** Upper edge of each, from the top of the page's room. */
  readonly tops: readonly number[]
  /** By how much each gap within the blocks is widened. */
  readonly spread: number
}
export interface PageRoom {
  readonly height: number
  /** Less on the first page, where a heading stands. */
  readonly first: number
  /** Gaps between blocks and within them are widened by at most so much to fill a page. */
  readonly stretch: number
  readonly spread?: number
}

/** A last page less full than this is as bad as others that are not full; beyond, it may be as it is. */
const FULL_ENOUGH = 0.35

/** A block higher than a page has one of its own. */
export function paginate(blocks: readonly Block[], room: PageRoom): PageOfBlocks[] {
  const ends = breaks(blocks, room)
  return ends.map((end, page) => {
    const from = ends[page - 1] ?? 0
    const own = Array.from({ length: end - from }, (_, i) => from + i)
    return filled(own, blocks, heightOf(page, room), room, page === ends.length - 1)
  })
}

const heightOf = (page: number, room: PageRoom): number => (page === 0 ? room.first : room.height)

/** For each page the number of the block after its last: the way that leaves the least white, counted in squares. */
function breaks(blocks: readonly Block[], room: PageRoom): number[] {
  const best: { cost: number; from: number; page: number }[] = [{ cost: 0, from: 0, page: 0 }]
  for (let end = 1; end <= blocks.length; end++) {
    let chosen = { cost: Infinity, from: end - 1, page: 1 }
    for (let from = end - 1, used = 0; from >= 0; from--) {
      used += blocks[from]!.height + (from < end - 1 ? blocks[from + 1]!.gap : 0)
      const before = best[from]!
      const height = heightOf(before.page, room)
      if (used > height && from < end - 1) break
      const cost = before.cost + white(used / height, end === blocks.length)
      if (cost < chosen.cost) chosen = { cost, from, page: before.page + 1 }
    }
    best.push(chosen)
  }
  const ends: number[] = []
  for (let end = blocks.length; end > 0; end = best[end]!.from) ends.unshift(end)
  return ends
}

/** A page costs something however full it is, so that there are few. */
function white(filled: number, last: boolean): number {
  const left = Math.max(0, 1 - filled)
  if (last && filled >= FULL_ENOUGH) return 0.5
  return 0.5 + left * left
}

/** A gap between blocks grows so many times as much as one within them. */
const BETWEEN = 2.5

function filled(
  own: readonly number[],
  blocks: readonly Block[],
  height: number,
  room: PageRoom,
  last: boolean,
): PageOfBlocks {
  const gaps = own.slice(1).map(i => blocks[i]!.gap)
  const inner = sum(own.map(i => blocks[i]!.inner ?? 0))
  const used = sum(own.map(i => blocks[i]!.height)) + sum(gaps)
  // a last page looks like the others, but is not pulled apart to fill
  const part = last && used < height * 0.75 ? 1 / 3 : 1
  const left = Math.max(0, height - used)
  const spread = inner === 0 ? 0 : Math.min((room.spread ?? 0) * part, left / (inner + BETWEEN * gaps.length))
  const more = gaps.length === 0 ? 0 : Math.min(room.stretch * part, (left - spread * inner) / gaps.length)
  let top = 0
  const tops = own.map((_, i) => {
    const before = blocks[own[i - 1]!]
    if (before) top += before.height + (before.inner ?? 0) * spread + gaps[i - 1]! + more
    return top
  })
  return { blocks: own, tops, spread }
}

const sum = (all: readonly number[]): number => all.reduce((total, one) => total + one, 0)
