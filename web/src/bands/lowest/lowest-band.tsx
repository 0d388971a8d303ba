import type { ReactNode } from "react"
import { useApp, useView } from "../../app.js"
import type { Chapter } from "../../view/view.js"
import { keyShown } from "../../acts/acts.js"
import { words } from "../../words/index.js"
import { MattersChapter } from "./matters.js"
import { MeasureChapter } from "./measure.js"
import { PracticeChapter } from "./practice.js"
import { ReasonChapter } from "./reason.js"
import { RepeatsChapter } from "./repeats.js"

const CHAPTERS: Readonly<Record<Chapter, () => ReactNode>> = {
  reason: ReasonChapter,
  matters: MattersChapter,
  measure: MeasureChapter,
  repeats: RepeatsChapter,
  practice: PracticeChapter,
}

/** The reason, and whatever else is asked: under all other bands. */
export function LowestBand() {
  const chapter = useView(state => state.chapter)
  const Shown = CHAPTERS[chapter]
  const selected = useView(state => state.selected)
  const isTall = useView(state => state.chapter !== "reason" || state.asking === "deciding")
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
