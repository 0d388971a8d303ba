import { expect, test } from "vitest"
import { cartouchesRound } from "./over.js"

const box = (left: number, top: number) => ({ left, top, right: left + 50, bottom: top + 10 })

test("lines of words that nearly touch have one cartouche, parts that stand apart one each", () => {
  const round = (...boxes: ReturnType<typeof box>[]) =>
    cartouchesRound(boxes, 10).map(mark => mark.shape === "rect" && [mark.x, mark.y, mark.width, mark.height])
  expect(round(box(0, 0), box(20, 12))).toEqual([[-4, -4, 78, 30]])
  expect(round(box(0, 0), box(0, 100))).toHaveLength(2)
})
