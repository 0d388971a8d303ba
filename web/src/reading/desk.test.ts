/** The desk keeps up with the window by changes alone, and says what a reading from scratch says. */
import { alignVoices, applyChange, parseShorthand, readTogether, type Page, type PageChange } from "@resolutio/core"
import { describe, expect, test } from "vitest"
import { DeskClient, type DeskLine } from "./client.js"
import { Desk } from "./desk.js"
import type { FromDesk, TimeWanted } from "./messages.js"
import { summaryOf } from "./summary.js"
import { tell } from "./tell.js"
import type { MendingTold } from "./told-chapters.js"

function pageOf(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error("not read")
  return read.value
}
/** Two voices of our own; the third breve of the cantus is made imperfect by the semibreve after it. */
const PAGE = pageOf(`title: Duo
voice cantus black practice=ars-nova
clef:C1 O B c5 S d B e S c d e [c5 d b4] S c5 d e f e d c B c S d B e S c d e B c L c
voice tenor black practice=ars-nova
clef:C4 O B c4 c c c c c c c c L c`)
const THREE = pageOf(`title: Trio
voice cantus black practice=ars-nova
clef:C1 O B c5 S d B e S c d e [c5 d b4] S c5 d e f e d c B c S d B e S c d e B c L c
voice tenor black practice=ars-nova
clef:C4 O B c4 c c c c c c c c L c
voice contratenor black practice=ars-nova
clef:C3 O B g4 g g g g g g g g L g`)
/** The tenor lacks a breve. */
const SLIP = pageOf(`title: Trio
voice cantus black practice=ars-nova
clef:C1 O B c5 S d B e S c d e [c5 d b4] S c5 d e f e d c B c S d B e S c d e B c L c
voice tenor black practice=ars-nova
clef:C4 O B c4 c c c c c c c L c`)
const WANTED: TimeWanted = { width: 700, size: 0.75, compact: false, see: [0, 1] }

/** A desk without a thread; what is due is done when asked. */
function deskWithClient() {
  const news: Exclude<FromDesk, { tell: "answer" }>[] = []
  let take: (message: FromDesk) => void = () => undefined
  const due: (() => void)[] = []
  const desk = new Desk(
    message => take(message),
    run => due.push(run),
  )
  const line: DeskLine = { send: message => desk.take(structuredClone(message)), listen: one => (take = one) }
  const client = new DeskClient(line, one => news.push(structuredClone(one)))
  /** What is due now, and nothing of what that makes due. */
  const step = (): void => {
    for (const run of due.splice(0)) run()
  }
  const settle = (): void => {
    while (due.length > 0) step()
  }
  return { client, news, step, settle, due }
}
const fresh = (page: Page) => {
  const together = readTogether(page)
  return { together, summary: summaryOf(page, together, alignVoices(page, together.readings)) }
}
const CHANGES: PageChange[] = [
  { kind: "delete-sign", sign: PAGE.voices[0]!.signs[3]!.id },
  { kind: "set-title", title: "Another" },
  {
    kind: "insert-sign",
    voice: PAGE.voices[0]!.id,
    before: PAGE.voices[0]!.signs[5]!.id,
    sign: { id: "d1" as never, kind: "dot" },
  },
]

describe("the reading desk", () => {
  test("after each change says what a reading from scratch says", () => {
    const { client, news, settle } = deskWithClient()
    client.send({ do: "open", revision: 1, page: PAGE })
    settle()
    let page = PAGE
    CHANGES.forEach((change, i) => {
      const changed = applyChange(page, change)
      if (!changed.ok) throw new Error("does not fit")
      page = changed.value.page
      client.send({ do: "change", revision: i + 2, change })
      settle()
      const last = news.at(-1)
      expect(last).toEqual({
        tell: "read",
        revision: i + 2,
        summary: structuredClone(fresh(page).summary),
        isSettled: true,
      })
    })
  })
  test("reads once for changes that come together", () => {
    const { client, news, settle, due } = deskWithClient()
    client.send({ do: "open", revision: 1, page: PAGE })
    CHANGES.forEach((change, i) => client.send({ do: "change", revision: i + 2, change }))
    expect(due).toHaveLength(1)
    settle()
    expect(news.filter(one => one.tell === "read" && one.isSettled)).toMatchObject([{ revision: 4 }])
  })
  test("tells what all voices say at once before it has found which of them does not fit, and leaves off for a change", () => {
    const { client, news, step, settle, due } = deskWithClient()
    client.send({ do: "open", revision: 1, page: THREE })
    settle()
    news.length = 0
    const change = CHANGES[0]!
    const changed = applyChange(THREE, change)
    if (!changed.ok) throw new Error("does not fit")
    client.send({ do: "change", revision: 2, change })
    step()
    expect(news).toMatchObject([{ tell: "read", revision: 2, isSettled: false }])
    expect(due).toHaveLength(1)
    // undone before it is looked into: only that is read
    client.send({ do: "change", revision: 3, change: changed.value.undo })
    settle()
    expect(news.flatMap(one => (one.tell === "read" && one.isSettled ? [one.revision] : []))).toEqual([3])
    expect(news.at(-1)).toMatchObject({ summary: structuredClone(fresh(THREE).summary) })
    client.send({ do: "change", revision: 4, change })
    settle()
    expect(news.at(-1)).toMatchObject({ isSettled: true, summary: structuredClone(fresh(changed.value.page).summary) })
  })
  test("what is supposed is read, and then it never was", () => {
    const { client, news, settle } = deskWithClient()
    client.send({ do: "open", revision: 1, page: PAGE })
    settle()
    const real = news.at(-1)
    client.send({ do: "suppose", revision: 2, change: CHANGES[0]! })
    settle()
    const supposed = applyChange(PAGE, CHANGES[0]!)
    expect(news.at(-1)).toMatchObject({
      summary: structuredClone(fresh((supposed as { value: { page: Page } }).value.page).summary),
    })
    client.send({ do: "suppose", revision: 3 })
    settle()
    expect(news.at(-1)).toEqual({ ...real, revision: 3 })
  })
  test("questions wait until all is read, and are then answered", async () => {
    const { client, settle } = deskWithClient()
    client.send({ do: "open", revision: 1, page: PAGE })
    const sign = PAGE.voices[0]!.signs[2]!.id
    const told = client.ask({ about: "sign", sign })
    settle()
    expect(await told).toEqual(tell(PAGE, fresh(PAGE).together.readings, sign))
    expect(await client.ask({ about: "sign", sign: "nowhere" as never })).toBeUndefined()
  })
  test("systems are told once, and again only where they changed", () => {
    const { client, news, settle } = deskWithClient()
    client.send({ do: "time", wanted: WANTED })
    client.send({ do: "open", revision: 1, page: PAGE })
    settle()
    const told = () => news.filter(one => one.tell === "systems").flatMap(one => one.svg.map(([number]) => number))
    expect(told()).toEqual([0, 1])
    client.send({ do: "see", see: [1, 2] })
    expect(told()).toEqual([0, 1, 2])
    client.send({ do: "change", revision: 2, change: { kind: "set-title", title: "B" } })
    settle()
    expect(told()).toEqual([0, 1, 2])
    client.send({ do: "time", wanted: { ...WANTED, width: 800, see: [0, 0] } })
    settle()
    expect(told()).toEqual([0, 1, 2, 0])
  })
  test("marks over a sign are told for its own system", async () => {
    const { client, settle } = deskWithClient()
    client.send({ do: "time", wanted: WANTED })
    client.send({ do: "open", revision: 1, page: PAGE })
    settle()
    const marks = await client.ask({ about: "asked", sign: PAGE.voices[1]!.signs[2]!.id })
    expect(marks.map(one => one.system)).toEqual([0])
    expect(marks[0]!.svg).toContain('class="cartouche"')
  })
  test("slips are looked for a little at a time, until it is stopped", async () => {
    const { client, news, settle } = deskWithClient()
    client.send({ do: "open", revision: 1, page: SLIP })
    settle()
    const shares = () => news.filter(one => one.tell === "progress").length
    const answered = async (stopAt: number) => {
      const before = shares()
      const answers: (MendingTold | undefined)[] = []
      void client.ask({ about: "mending" }).then(one => answers.push(one))
      while (answers.length === 0) {
        await new Promise(done => setTimeout(done))
        settle()
        if (shares() - before === stopAt) client.send({ do: "leave" })
      }
      return { answer: answers[0], shares: shares() - before }
    }
    const whole = await answered(Infinity)
    expect(whole.answer).toMatchObject({ fits: false })
    expect(whole.shares).toBeGreaterThan(1)
    expect(await answered(1)).toMatchObject({ answer: undefined })
  })
  test("a text is read without a piece being open; hostile ones come back as problems", async () => {
    const { client } = deskWithClient()
    expect(await client.ask({ about: "text", file: "a.figurae", text: "voice cantus\nB c4" })).toMatchObject({
      ok: true,
    })
    const bad = await client.ask({ about: "text", file: "a.mei", text: "<!DOCTYPE x [<!ENTITY a 'b'>]><mei>&a;</mei>" })
    expect(bad).toMatchObject({ ok: false })
  })
})
