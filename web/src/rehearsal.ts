/**
 * A browser makes a program quick only once it has run for a while. So what every key asks for is done beforehand, out of sight, on
 * the beginning of the piece, while the window has nothing else to do: the first keys are then as quick as later ones. A piece that
 * is opened later has ways of its own through the program, and is rehearsed too, more shortly.
 */
import { applyChange, writing, type Page, type PageChange, type SignId } from "@resolutio/core"
import type { App } from "./app.js"
import { LineInside } from "./bands/page/line-shown.js"
import { PageLayout } from "./bands/page/layout.js"
import { marksOn } from "./bands/page/staves.js"
import { flatOf } from "./document/index-signs.js"
import { OwnReadings } from "./reading/own.js"

/** Changes that are made of the first piece, and taken back: so many before whatever else can be loaded, and in all. */
const FIRST_TURNS = 48
const TURNS = 320
/** Of each other piece. */
const LATER_TURNS = 96
/** Signs that are enough. */
const SIGNS = 240
/** So long the window can be kept from a key, in ms; the first time something is done it can take longer. */
const SLICE = 6
/** So long after whoever sits before it has done something it does nothing, in ms. */
const REST = 500
const LOOK = { width: 1100, unit: 9 }

/** Rehearses whatever is opened, until the window is closed. `rest` is loaded after a while; `isOff`: not just now. */
export async function rehearse(
  documents: App["documents"],
  { isOff, rest }: { readonly isOff: () => boolean; readonly rest: () => Promise<void> },
): Promise<void> {
  const calm = calmTimes(isOff)
  const known = new Set<string>()
  // what was opened last goes first
  const waiting: Rehearsal[] = []
  let isRestLoaded = false
  for (;;) {
    const { record, page } = documents.store.getState()
    const isNew = record !== undefined && !known.has(record.id)
    await (isNew || waiting.length > 0 ? calm() : nextOpened(documents))
    if (isNew) {
      known.add(record.id)
      waiting.push({ turns: turnsOn(beginning(page)), left: known.size === 1 ? TURNS : LATER_TURNS })
    }
    const now = waiting.at(-1)
    if (!now || !goOn(now)) waiting.pop()
    if (isRestLoaded || (now && now.left > TURNS - FIRST_TURNS)) continue
    isRestLoaded = true
    void rest()
  }
}

interface Rehearsal {
  readonly turns: Iterator<boolean>
  left: number
}

/** For one slice; false when nothing is left. */
function goOn(rehearsal: Rehearsal): boolean {
  const until = performance.now() + SLICE
  while (rehearsal.left > 0 && performance.now() < until) {
    const { done, value } = rehearsal.turns.next()
    if (done) return false
    if (value) rehearsal.left--
  }
  return rehearsal.left > 0
}

const nextOpened = ({ store }: App["documents"]): Promise<void> =>
  new Promise(done => {
    const unsubscribe = store.subscribe(({ record }, before) => {
      if (record?.id === before.record?.id) return
      unsubscribe()
      done()
    })
  })

/** Settles when the window has nothing else to do and whoever sits before it has rested. */
function calmTimes(isOff: () => boolean): () => Promise<void> {
  let last = performance.now()
  const noted = (): void => void (last = performance.now())
  for (const act of ["keydown", "pointerdown", "wheel"]) addEventListener(act, noted, { capture: true, passive: true })
  return async () => {
    do {
      const wait = last + REST - performance.now()
      if (isOff()) await new Promise(done => setTimeout(done, 10 * REST))
      if (wait > 0) await new Promise(done => setTimeout(done, wait))
      await idle()
    } while (isOff() || performance.now() - last < REST)
  }
}

/** Between two slices there is room for whatever else is to be done. */
const idle = (): Promise<void> =>
  new Promise(done => {
    setTimeout(() => (typeof requestIdleCallback === "undefined" ? done() : requestIdleCallback(() => done())), 4)
  })

function beginning(page: Page): Page {
  const [longest] = page.voices.toSorted((a, b) => b.signs.length - a.signs.length)
  return { ...page, decisions: [], voices: longest ? [{ ...longest, signs: longest.signs.slice(0, SIGNS) }] : [] }
}

/** Signs taken away and put back, each as a key would. It can be left wherever it yields; true: a change is whole. */
function* turnsOn(start: Page): Generator<boolean, void> {
  const [own, layout] = [new OwnReadings(), new PageLayout()]
  const lines = new Map<number, LineInside>()
  let page = start
  let asking = 0
  function* make(change: PageChange): Generator<boolean, PageChange | undefined> {
    const changed = applyChange(page, change)
    if (!changed.ok) return undefined
    page = changed.value.page
    yield false
    const notes = notesOf(page)
    const asked = notes[(asking += 11) % Math.max(1, notes.length)]
    const told = asked && own.tell(page, asked)
    yield false
    const laid = layout.lay(page, LOOK).flatMap(voice => voice.lines)
    yield false
    const chosen = asked === undefined ? [] : [asked]
    const causes = told?.because.map(({ sign }) => sign) ?? []
    for (const [i, { drawing }] of laid.entries()) {
      shown(lines, i).show(drawing)
      marksOn(drawing, LOOK.unit, { chosen, causes, sounding: [] })
      yield false
    }
    return changed.value.undo
  }
  for (let turn = 0; ; turn++) {
    const notes = notesOf(page)
    const note = notes[(turn * 7) % Math.max(1, notes.length)]
    const gone = note && writing.takeAway(page, [note])
    if (!gone) return
    const undo = yield* make(gone.change)
    yield true
    if (undo) yield* make(undo)
    yield true
  }
}

const notesOf = ({ voices }: Page): SignId[] =>
  voices.flatMap(flatOf).flatMap(({ sign }) => (sign.kind === "note" ? [sign.id] : []))

function shown(lines: Map<number, LineInside>, at: number): LineInside {
  const known = lines.get(at) ?? new LineInside(document.createElementNS("http://www.w3.org/2000/svg", "g"))
  lines.set(at, known)
  return known
}
