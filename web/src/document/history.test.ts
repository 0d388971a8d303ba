/** Going back and forth along steps gives the pages that were there, whatever was done. */
import { applyChange, parseShorthand, signId, type Page, type PageChange } from "@resolutio/core"
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import type { Step } from "../keep/types.js"
import { common, merged, walk } from "./history.js"

function pageOf(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error("not read")
  return read.value
}
const PAGE = pageOf(
  "title: A\nvoice cantus black\nclef:C1 O B c4 S d e [f g a] B . g\nvoice tenor black\nclef:C4 L c3 d",
)

/** Some change that fits the page, by two numbers. */
function someChange(page: Page, which: number, at: number): PageChange {
  const voice = page.voices[at % page.voices.length]!
  const sign = voice.signs[at % voice.signs.length]
  if (which === 0 || !sign) return { kind: "set-title", title: `title ${at}` }
  if (which === 1) return { kind: "delete-sign", sign: sign.id }
  if (which === 2) return { kind: "move-sign", sign: sign.id }
  const id = signId(`new-${which}-${at}`)
  return { kind: "insert-sign", voice: voice.id, before: sign.id, sign: { id, kind: "dot" } }
}
const moves = fc.array(fc.tuple(fc.nat({ max: 3 }), fc.nat({ max: 40 })), { maxLength: 12 })

/** Steps as they are made one after the other, and the page after each. */
function made(choices: readonly (readonly [number, number])[]): { steps: Step[]; pages: Page[] } {
  const steps: Step[] = []
  const pages = [PAGE]
  for (const [which, at] of choices) {
    const change = someChange(pages.at(-1)!, which, at)
    const changed = applyChange(pages.at(-1)!, change)
    if (!changed.ok) continue
    steps.push({ change, undo: changed.value.undo, words: "", stamp: steps.length + 1 })
    pages.push(changed.value.page)
  }
  return { steps, pages }
}

describe("walking along steps", () => {
  test("from anywhere to anywhere", () => {
    fc.assert(
      fc.property(moves, fc.nat(), fc.nat(), (choices, a, b) => {
        const { steps, pages } = made(choices)
        const [from, to] = [a % pages.length, b % pages.length]
        const walked = walk(pages[from]!, steps, from, to)
        expect(walked.problems).toEqual([])
        expect(walked.at).toBe(to)
        expect(walked.page).toEqual(pages[to])
      }),
    )
  })
  test("survives being kept as JSON", () => {
    fc.assert(
      fc.property(moves, choices => {
        const { steps, pages } = made(choices)
        const kept = JSON.parse(JSON.stringify(steps)) as Step[]
        expect(walk(PAGE, kept, 0, kept.length).page).toEqual(pages.at(-1))
      }),
    )
  })
  test("two acts of one gesture are one step with the same effect", () => {
    fc.assert(
      fc.property(moves, choices => {
        const { steps, pages } = made(choices)
        if (steps.length < 2) return
        const both = merged(steps[0]!, steps[1]!)
        const there = walk(PAGE, [both], 0, 1)
        expect(there.page).toEqual(pages[2])
        expect(walk(there.page, [both], 1, 0).page).toEqual(PAGE)
      }),
    )
  })
  test("stops where a step does not fit, and says so", () => {
    const step: Step = {
      change: { kind: "delete-sign", sign: signId("nowhere") },
      undo: { kind: "several", changes: [] },
      words: "",
      stamp: 1,
    }
    const walked = walk(PAGE, [step], 0, 1)
    expect([walked.page, walked.at, walked.problems.length]).toEqual([PAGE, 0, 1])
  })
})

test("what two windows have in common is told by the stamps", () => {
  const step = (stamp: number): Step => ({
    change: { kind: "several", changes: [] },
    undo: { kind: "several", changes: [] },
    words: "",
    stamp,
  })
  expect(common([1, 2, 3].map(step), [1, 2, 5, 6].map(step))).toBe(2)
  expect(common([], [1].map(step))).toBe(0)
})
