/** The acts of the window. */
import type { App } from "../app.js"
import { canDecide } from "../bands/lowest/can-decide.js"
import { voiceOf } from "../document/index-signs.js"
import { hasKeyboards } from "../keyboard/keyboard.js"
import {
  select,
  setChapter,
  setSheet,
  toggleBand,
  view,
  zoomBy,
  type Asking,
  type BandName,
  type Chapter,
  type Sheet,
} from "../view/view.js"
import { across, along, endOf } from "../view/walk.js"
import { words } from "../words/index.js"
import { accidentalActs, stepsOn } from "./accidentals.js"
import type { Act } from "./acts.js"
import { listeningActs } from "./listening.js"
import { photographActs } from "./photographs.js"
import { presentingActs } from "./presenting.js"
import { writingActs } from "./writing.js"

export function windowActs(
  app: Pick<App, "documents" | "readings" | "player" | "presenter" | "walk" | "keyboard">,
): Act[] {
  const { documents, readings } = app
  const isClosed = (): boolean => documents.store.getState().record === undefined
  const withPiece = [
    ...walkActs(app),
    ...askingActs(readings),
    ...accidentalActs(app),
    ...writingActs(app),
    ...photographActs(app),
    ...listeningActs(app),
    ...presentingActs(app, sightActs()),
    ...keyboardActs(app),
  ]
  return [
    ...pieceActs(documents),
    ...helpActs(app),
    ...sightActs(),
    ...withPiece.map(act => ({ ...act, isOff: () => isClosed() || (act.isOff?.() ?? false) })),
  ]
}

function pieceActs(documents: App["documents"]): Act[] {
  const { acts } = words
  return [
    { id: "open", group: "piece", words: acts.open, key: "o", run: () => turn("open") },
    { id: "new", group: "piece", words: acts.new, key: "Shift+O", run: () => turn("new") },
    {
      id: "undo",
      group: "piece",
      words: acts.undo,
      key: "Ctrl+z",
      isOff: () => !documents.canUndo,
      run: () => documents.undo(),
    },
    {
      id: "redo",
      group: "piece",
      words: acts.redo,
      key: "Ctrl+Shift+z",
      otherKey: "Ctrl+y",
      isOff: () => !documents.canRedo,
      run: () => documents.redo(),
    },
    {
      id: "export",
      group: "piece",
      words: acts.export,
      key: "e",
      isOff: () => documents.store.getState().record === undefined,
      run: () => turn("export"),
    },
    { id: "find", group: "piece", words: acts.find, key: "/", otherKey: "Ctrl+k", run: () => turn("find") },
    { id: "keys", group: "piece", words: acts.keys, key: "?", run: () => turn("keys") },
  ]
}

function helpActs({ walk }: Pick<App, "walk">): Act[] {
  return [{ id: "walk", group: "piece", words: words.walk.begin, key: "h", run: () => void walk.begin() }]
}

function keyboardActs({ keyboard }: Pick<App, "keyboard">): Act[] {
  const run = (): void => void keyboard.turn()
  return [{ id: "keyboard", group: "write", words: words.keyboard.name, isOff: () => !hasKeyboards(), run }]
}

function turn(sheet: Sheet): void {
  setSheet(view.getState().sheet === sheet ? undefined : sheet)
}

const BANDS: readonly (readonly [BandName, string])[] = [
  ["page", "1"],
  ["time", "2"],
  ["edition", "3"],
]

function sightActs(): Act[] {
  const { acts } = words
  const last = (): BandName => view.getState().open.at(-1) ?? "time"
  return [
    ...BANDS.map(([band, key]): Act => ({
      id: band,
      group: "see",
      words: acts[band],
      key,
      run: () => toggleBand(band),
    })),
    {
      id: "alone",
      group: "see",
      words: acts.alone,
      key: "f",
      run: () => view.setState({ alone: !view.getState().alone }),
    },
    { id: "larger", group: "see", words: acts.larger, key: "+", otherKey: "=", run: () => zoomBy(last(), 1) },
    { id: "smaller", group: "see", words: acts.smaller, key: "-", run: () => zoomBy(last(), -1) },
    { id: "whole", group: "see", words: acts.whole, key: "Shift+F", run: () => void wholeScreen() },
    { id: "ground", group: "see", words: `${acts.dark} / ${acts.light}`, key: "g", run: turnGround },
  ]
}

async function wholeScreen(): Promise<void> {
  if (document.fullscreenElement) await document.exitFullscreen()
  else await document.documentElement.requestFullscreen?.()
}

export const isDark = (): boolean => {
  const { ground } = view.getState()
  return ground === "machine" ? matchMedia("(prefers-color-scheme: dark)").matches : ground === "dark"
}
function turnGround(): void {
  view.setState({ ground: isDark() ? "light" : "dark" })
}

function walkActs({ documents, readings }: Pick<App, "documents" | "readings">): Act[] {
  const { acts } = words
  const page = () => readings.store.getState().page
  const go = (id: ReturnType<typeof along>) => id !== undefined && select(id)
  const from = () => view.getState().selected
  const end = (by: 1 | -1) => {
    const sign = from()
    const voice = sign === undefined ? page().voices[0] : voiceOf(page(), sign)
    go(endOf(voice ?? page().voices[0], by))
  }
  const other = (by: 1 | -1) => {
    const sign = from()
    if (sign === undefined) return go(along(page(), undefined, 1))
    go(across(page(), sign, by, voice => readings.ownReading(voice)))
  }
  const act = (id: string, key: string, run: () => unknown): Act => ({
    id,
    group: "walk",
    words: acts[id as keyof typeof acts] as string,
    key,
    run,
  })
  return [
    act("after", "ArrowRight", () => go(along(page(), from(), 1))),
    act("before", "ArrowLeft", () => go(along(page(), from(), -1))),
    act("above", "ArrowUp", () => other(-1)),
    act("below", "ArrowDown", () => other(1)),
    act("first", "Home", () => end(1)),
    act("last", "End", () => end(-1)),
    act("next", "n", () => stepsOn({ documents, readings }, 1) || step(readings, 1)),
    act("previous", "Shift+N", () => stepsOn({ documents, readings }, -1) || step(readings, -1)),
  ]
}

/** To the next matter that has a place, from where one stands; round at the end. */
function step(readings: App["readings"], by: 1 | -1): void {
  const matters = (readings.store.getState().summary?.matters ?? []).filter(one => one.sign !== undefined)
  if (matters.length === 0) return
  const at = matters.findIndex(one => one.sign === view.getState().selected)
  const next = at < 0 ? (by > 0 ? 0 : matters.length - 1) : (at + by + matters.length) % matters.length
  select(matters[next]!.sign)
}

const CHAPTERS: readonly (readonly [Chapter, string])[] = [
  ["reason", "r"],
  ["matters", "l"],
  ["measure", "m"],
  ["repeats", "t"],
  ["accidentals", "a"],
  ["practice", "p"],
]

function askingActs(readings: App["readings"]): Act[] {
  const { acts } = words
  const noDuration = () => {
    const { selected } = view.getState()
    const told = selected === undefined ? undefined : readings.ownTold(selected)
    return !told || !canDecide(told)
  }
  const noSign = () => view.getState().selected === undefined || readings.store.getState().page.voices.length === 0
  return [
    ...CHAPTERS.map(([chapter, key]): Act => ({
      id: chapter,
      group: "ask",
      words: acts[chapter],
      key,
      run: () => setChapter(chapter),
    })),
    {
      id: "slips",
      group: "ask",
      words: acts.slips,
      isOff: () => readings.store.getState().page.voices.length === 0,
      run: () => view.setState({ chapter: "matters", asking: undefined, sheet: undefined, slips: true }),
    },
    { id: "suppose", group: "ask", words: acts.suppose, key: "q", isOff: noSign, run: () => ask("supposing") },
    {
      id: "supposePractice",
      group: "ask",
      words: acts.supposePractice,
      key: "Shift+Q",
      isOff: () => readings.store.getState().page.voices.length === 0,
      run: () => ask("practices"),
    },
    { id: "decide", group: "ask", words: acts.decide, key: "d", isOff: noDuration, run: () => ask("deciding") },
    { id: "back", group: "ask", words: acts.back, key: "Escape", run: back },
  ]
}

function ask(asking: Asking): void {
  view.setState({ asking, chapter: "reason", sheet: undefined })
}

/** One step back from what was opened last. */
export function back(): void {
  const { sheet, supposed, asking, chapter, writing } = view.getState()
  if (writing && !sheet) view.setState({ writing: undefined, anchor: undefined })
  else if (sheet) view.setState({ sheet: undefined })
  else if (asking === "practices") view.setState({ supposed: undefined, asking: undefined })
  else if (supposed) view.setState({ supposed: undefined, asking: "supposing" })
  else if (asking) view.setState({ asking: undefined })
  else if (chapter !== "reason") view.setState({ chapter: "reason" })
  else select(undefined)
}
