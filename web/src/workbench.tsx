import { useStore } from "zustand"
import { useEffect, type CSSProperties, type FunctionComponent } from "react"
import { useApp, useDocument, useReading, useView } from "./app.js"
import { Band } from "./bands/band.js"
import { LowestBand } from "./bands/lowest/lowest-band.js"
import { PageBand } from "./bands/page/page-band.js"
import { TimeBand } from "./bands/time/time-band.js"
import { isDark } from "./acts/definitions.js"
import { Thread } from "./bands/thread.js"
import { ReasonOutOfSight } from "./bands/lowest/out-of-sight.js"
import { ActButton } from "./parts/act-button.js"
import { later } from "./parts/later.js"
import { sound } from "./sound/player.js"
import { useDrop } from "./doors/use-drop.js"
import { FindSheet } from "./sheets/find-sheet.js"
import type { Sheet as SheetName } from "./view/view.js"
import { walking } from "./walk/walk.js"
import { words } from "./words/index.js"

export function Workbench() {
  useGround()
  const zero = useReading(({ time }) => (time?.systems[0] ? Math.round(time.systems[0].left - time.margin) : undefined))
  const isPresenting = useView(state => state.presenting === true)
  const edge = zero === undefined ? undefined : ({ "--shown-zero": `${Math.min(220, zero)}px` } as CSSProperties)
  if (isPresenting) return <PresenterView />
  return (
    <div className="workbench" style={edge}>
      <Head />
      <Middle />
      <Walk />
      <Listening />
      <LastLine />
    </div>
  )
}

/** The bands, or the sheet in their place. */
function Middle() {
  const sheet = useView(state => state.sheet)
  const Sheet = sheet && SHEETS[sheet]
  const isSupposed = useView(state => state.supposed !== undefined)
  const { isOver, ...drop } = useDrop()
  return (
    <main className={isSupposed ? "bands supposed" : "bands"} {...drop}>
      {isOver && <p className="drop sentence">{words.sheets.open.drop}</p>}
      {Sheet ? (
        <Sheet />
      ) : (
        <>
          <Band band="page">{() => <PageBand />}</Band>
          <Band band="time">{() => <TimeBand />}</Band>
          <Band band="edition">{() => <EditionBand />}</Band>
          <LowestBand />
          <Thread />
        </>
      )}
    </main>
  )
}

const SHEETS: Readonly<Record<SheetName, FunctionComponent>> = {
  open: later(() => import("./sheets/open-sheet.js").then(one => one.OpenSheet)),
  new: later(() => import("./sheets/open-sheet.js").then(one => one.NewSheet)),
  export: later(() => import("./sheets/export-sheet.js").then(one => one.ExportSheet)),
  // one types into it at once
  find: FindSheet,
  keys: later(() => import("./sheets/keys-sheet.js").then(one => one.KeysSheet)),
}
const PresenterView = later(() => import("./presenting/presenter-view.js").then(one => one.PresenterView))
const WalkLine = later(() => import("./walk/walk-line.js").then(one => one.WalkLine))
const ListeningLine = later(() => import("./sound/listening-line.js").then(one => one.ListeningLine))
const EditionBand = later(() => import("./bands/edition/edition-band.js").then(one => one.EditionBand))

/** While one is shown round. */
const Walk = () => (useStore(walking, state => state.at) === undefined ? null : <WalkLine />)

/** While something is heard, is about to be, or is wanted. */
function Listening() {
  const isSilent = useStore(sound, ({ phase, shown, failed }) => phase === "silent" && !shown && failed === undefined)
  return isSilent ? null : <ListeningLine />
}

function Head() {
  const title = useDocument(state => state.page.title)
  const isOpen = useDocument(state => state.record !== undefined)
  const canUndo = useDocument(({ record }) => record !== undefined && record.at > record.first)
  const shown = title.trim() === "" ? words.untitled : title
  useEffect(() => {
    document.title = isOpen ? `${shown} – ${words.program}` : words.program
  }, [isOpen, shown])
  return (
    <header className="head">
      <h1 className="title">{isOpen ? shown : words.program}</h1>
      {isOpen && <Kept />}
      <nav className="acts" aria-label={words.groups.piece}>
        {canUndo && <ActButton id="undo" />}
        <ActButton id="open" />
        {isOpen && <ActButton id="listen" />}
        {isOpen && <ActButton id="write" />}
        {isOpen && <ActButton id="export" />}
        <ActButton id="find" />
      </nav>
    </header>
  )
}

/** Whether what was done is kept: that changes with every key. */
function Kept() {
  const keeping = useDocument(state => state.keeping)
  const holding = useDocument(state => state.holding)
  const kept = { kept: words.keep.kept, writing: words.keep.now, failed: words.keep.notKept }[keeping]
  return <p className="quiet">{holding ? kept : words.keep.onlooker}</p>
}

/** How things stand, in a sentence; and what is worth a look next. */
function LastLine() {
  const { acts } = useApp()
  const isOpen = useDocument(state => state.record !== undefined)
  const problems = useDocument(state => state.problems)
  const summary = useReading(state => state.summary)
  const behind = useReading(state => state.read !== state.revision)
  const isSettled = useReading(state => state.settled === state.revision)
  const failed = useReading(state => state.failed)
  const hasOwnList = useView(state => state.chapter === "accidentals")
  const said = useView(state => state.said ?? (state.supposed && words.status.supposed))
  const { status } = words
  const doubts = summary?.matters.filter(one => one.kind === "doubt").length ?? 0
  const others = summary?.matters.filter(one => one.kind === "problem").length ?? 0
  const sentence = said
    ? said
    : problems[0]
      ? `${problems[0].what} ${problems[0].mend}`
      : !isOpen
        ? status.nothing
        : failed
          ? status.failed(failed)
          : behind || !summary
            ? status.reading
            : [
                isSettled ? status.read : status.looking,
                summary.fit,
                status.empty(summary.empty),
                status.doubts(doubts),
                status.problems(others),
              ]
                .filter(Boolean)
                .join(" ")
  const hasNext = summary?.matters.some(one => one.sign !== undefined) ?? false
  return (
    <footer className="last">
      <ReasonOutOfSight />
      <p role="status">{sentence}</p>
      {isOpen && hasNext && !hasOwnList && <ActButton id={acts.find("next").id} />}
    </footer>
  )
}

/** Dark or light is said on the root, for the colours' names. */
function useGround(): void {
  const ground = useView(state => state.ground)
  useEffect(() => {
    const say = (): void => {
      document.documentElement.dataset["ground"] = isDark() ? "dark" : "light"
    }
    say()
    const machine = matchMedia("(prefers-color-scheme: dark)")
    machine.addEventListener("change", say)
    return () => machine.removeEventListener("change", say)
  }, [ground])
}
