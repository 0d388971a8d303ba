import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { paginate, type Block } from "./pagination.js"

const blocks = (count: number, height: number, gap = 10): Block[] =>
  Array.from({ length: count }, () => ({ height, gap }))
const counts = (pages: ReturnType<typeof paginate>) => pages.map(page => page.blocks.length)

describe("paginate", () => {
  test("as few pages as hold them, evenly filled", () => {
    expect(counts(paginate(blocks(6, 100), { height: 330, first: 330, stretch: 40 }))).toEqual([3, 3])
    expect(counts(paginate(blocks(8, 100), { height: 460, first: 460, stretch: 40 }))).toEqual([4, 4])
    expect(counts(paginate(blocks(5, 100), { height: 330, first: 120, stretch: 40 }))).toEqual([1, 2, 2])
  })
  test("gaps are widened alike until the page is full, but not beyond all measure", () => {
    const [full] = paginate(blocks(6, 100), { height: 340, first: 340, stretch: 40 })
    expect(full!.tops).toEqual([0, 120, 240])
    const [loose] = paginate(blocks(4, 100), { height: 300, first: 300, stretch: 20 })
    expect(loose!.tops).toEqual([0, 130])
  })
  test("what is left goes between the blocks and, less of it, within them", () => {
    const two = Array.from({ length: 2 }, () => ({ height: 150, gap: 10, inner: 3 }))
    // 85 are left: six gaps within take 10 each, the one between them two and a half times as much
    const [page] = paginate(two, { height: 395, first: 395, stretch: 40, spread: 20 })
    expect(page).toEqual({ blocks: [0, 1], tops: [0, 215], spread: 10 })
    const [capped] = paginate(two, { height: 395, first: 395, stretch: 40, spread: 5 })
    expect(capped).toEqual({ blocks: [0, 1], tops: [0, 215], spread: 5 })
  })
  test("nothing is nothing; a block higher than a page has one of its own", () => {
    expect(paginate([], { height: 100, first: 100, stretch: 10 })).toEqual([])
    const high = paginate([...blocks(1, 50), ...blocks(1, 500), ...blocks(1, 50)], {
      height: 100,
      first: 100,
      stretch: 0,
    })
    expect(counts(high)).toEqual([1, 1, 1])
  })
  test("each block stands once, in order, none over another and none beyond its page", () => {
    const block = fc.record({
      height: fc.integer({ min: 1, max: 90 }),
      gap: fc.integer({ min: 0, max: 30 }),
      inner: fc.integer({ min: 0, max: 4 }),
    })
    fc.assert(
      fc.property(fc.array(block, { maxLength: 60 }), fc.integer({ min: 90, max: 400 }), (all, height) => {
        const pages = paginate(all, { height, first: 90, stretch: 25, spread: 8 })
        expect(pages.flatMap(page => page.blocks)).toEqual(all.map((_, i) => i))
        pages.forEach(({ blocks: own, tops, spread }, p) => {
          const high = (block: number) => all[block]!.height + all[block]!.inner * spread
          own.forEach((block, i) => {
            const before = i === 0 ? 0 : tops[i - 1]! + high(own[i - 1]!) + all[block]!.gap
            expect(tops[i]).toBeGreaterThanOrEqual(before - 1e-9)
            expect(tops[i]! + high(block)).toBeLessThanOrEqual((p === 0 ? 90 : height) + 1e-9)
          })
        })
      }),
    )
  })
})
