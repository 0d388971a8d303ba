/**
 * A browser makes a program quick only once it has run for a while. So what every key asks for is done beforehand, out of sight, on
 * the beginning of the piece, while the window has nothing else to do: the first keys are then as quick as later ones.
 */
import { applyChange, writing, type Page, type PageChange } from "@resolutio/core"
import { LineInside } from "./bands/page/line-shown.js"
import { PageLayout } from "./bands/page/layout.js"
import { flatOf } from "./document/index-signs.js"
import { OwnReadings } from "./reading/own.js"

/** Changes that are made. */
const TURNS = 160
/** Signs that are enough. */
const SIGNS = 240
/** So long the window can be kept from a key, in ms. */
const SLICE = 8
/** So long after whoever sits before it has done something it does nothing, in ms. */
const REST = 1000
const LOOK = { width: 1100, unit: 9 }

/** `isOver` ends it. */
export async function rehearse(page: Page, isOver: () => boolean): Promise<void> {
  const turns = turnsOn(beginning(page))
  let last = 0
  const noted = (): void => void (last = performance.now())
  for (const act of ["keydown", "pointerdown", "wheel"]) addEventListener(act, noted, { capture: true, passive: true })
  while (!isOver()) {
    await idle()
    if (performance.now() - last < REST) continue
    const until = performance.now() + SLICE
    while (performance.now() < until) if (turns.next().done) return
  }
}

/** Between two slices there is room for whatever else is to be done. */
const idle = (): Promise<void> =>
  new Promise(done => {
    setTimeout(() => (typeof requestIdleCallback === "undefined" ? done() : requestIdleCallback(() => done())), 20)
  })

function beginning(page: Page): Page {
  const [longest] = page.voices.toSorted((a, b) => b.signs.length - a.signs.length)
  return { ...page, decisions: [], voices: longest ? [{ ...longest, signs: longest.signs.slice(0, SIGNS) }] : [] }
}

/** Signs taken away and put back, each as a key would. */
function* turnsOn(start: Page): Generator<void> {
  const [own, layout] = [new OwnReadings(), new PageLayout()]
  const lines = new Map<number, LineInside>()
  let page = start
  const make = (change: PageChange): PageChange | undefined => {
    const changed = applyChange(page, change)
    if (!changed.ok) return undefined
    page = changed.value.page
    const voice = page.voices[0]!
    const asked = flatOf(voice).find(({ sign }) => sign.kind === "note")
    if (asked) own.tell(page, asked.sign.id)
    for (const { lines: laid } of layout.lay(page, LOOK))
      laid.forEach(({ drawing }, i) => shown(lines, i).show(drawing))
    return changed.value.undo
  }
  for (let turn = 0; turn < TURNS; turn++) {
    const notes = page.voices.flatMap(voice => flatOf(voice).filter(({ sign }) => sign.kind === "note"))
    const note = notes[(turn * 7) % Math.max(1, notes.length)]
    const gone = note && writing.takeAway(page, [note.sign.id])
    const undo = gone && make(gone.change)
    yield
    if (undo) make(undo)
    yield
  }
}

function shown(lines: Map<number, LineInside>, at: number): LineInside {
  const known = lines.get(at) ?? new LineInside(document.createElementNS("http://www.w3.org/2000/svg", "g"))
  lines.set(at, known)
  return known
}
