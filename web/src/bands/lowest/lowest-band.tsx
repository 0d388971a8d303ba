import { useEffect, useRef, type FunctionComponent, type RefObject } from "react"
import { useApp, useView } from "../../app.js"
import type { Chapter } from "../../view/view.js"
import { keyShown } from "../../acts/acts.js"
import { afterPaint } from "../../parts/after-paint.js"
import { later } from "../../parts/later.js"
import { words } from "../../words/index.js"
import { ReasonChapter } from "./reason.js"

const CHAPTERS: Readonly<Record<Chapter, FunctionComponent>> = {
  reason: ReasonChapter,
  matters: later(() => import("./matters.js").then(one => one.MattersChapter)),
  measure: later(() => import("./measure.js").then(one => one.MeasureChapter)),
  repeats: later(() => import("./repeats.js").then(one => one.RepeatsChapter)),
  accidentals: later(() => import("./accidentals.js").then(one => one.AccidentalsChapter)),
  practice: later(() => import("./practice.js").then(one => one.PracticeChapter)),
}

/** The reason, and whatever else is asked: under all other bands. */
export function LowestBand() {
  const chapter = useView(state => state.chapter)
  const Shown = CHAPTERS[chapter]
  const selected = useView(state => state.selected)
  const isTall = useView(
    state => state.chapter !== "reason" || state.asking === "deciding" || state.asking === "practices",
  )
  const section = useRef<HTMLElement>(null)
  useBroughtIn(section, chapter)
  return (
    <section
      ref={section}
      className={`lowest ${selected ? "asked" : ""} ${isTall ? "tall" : ""}`}
      aria-label={words.chapters[chapter]}
    >
      <nav className="gutter" aria-label={words.chapters.label}>
        {(Object.keys(CHAPTERS) as Chapter[]).map(one => (
          <ChapterName key={one} chapter={one} isChosen={one === chapter} />
        ))}
      </nav>
      <div className="chapter">
        <Shown />
      </div>
    </section>
  )
}

/** Where not all bands fit into the window, what is asked for is brought into sight. */
function useBroughtIn(section: RefObject<HTMLElement | null>, chapter: Chapter): void {
  const asking = useView(state => state.asking)
  const isAsked = chapter !== "reason" || asking !== undefined
  useEffect(
    () =>
      isAsked
        ? afterPaint(() => {
            const [own, middle] = [section.current, section.current?.parentElement].map(one =>
              one?.getBoundingClientRect(),
            )
            if (!own || !middle || (own.top >= middle.top && own.bottom <= middle.bottom + 1)) return
            section.current?.scrollIntoView({ block: "start" })
          })
        : undefined,
    [section, isAsked, chapter, asking],
  )
}

function ChapterName({ chapter, isChosen }: { readonly chapter: Chapter; readonly isChosen: boolean }) {
  const act = useApp().acts.find(chapter)
  return (
    <button
      type="button"
      className="name"
      aria-current={isChosen}
      aria-keyshortcuts={act.key?.toUpperCase()}
      onClick={act.run}
    >
      {words.chapters[chapter]}
      {!isChosen && <kbd aria-hidden="true">{keyShown(act.key!)}</kbd>}
    </button>
  )
}
