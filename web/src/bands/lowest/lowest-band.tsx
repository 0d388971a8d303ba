import type { FunctionComponent } from "react"
import { useApp, useView } from "../../app.js"
import type { Chapter } from "../../view/view.js"
import { keyShown } from "../../acts/acts.js"
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
  return (
    <section
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
