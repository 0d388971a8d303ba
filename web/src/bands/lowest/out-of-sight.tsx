import { useEffect, useState } from "react"
import { useApp, useReading, useView } from "../../app.js"
import { words } from "../../words/index.js"

/** So much of the lowest band is seen when its headline is, in px. */
const HEADLINE = 56

/** Where a small window has no room for the reason, its headline stands in the last line, and leads to the rest. */
export function ReasonOutOfSight() {
  const { readings } = useApp()
  const selected = useView(state =>
    state.chapter === "reason" && !state.asking && !state.sheet ? state.selected : undefined,
  )
  useReading(state => state.revision)
  const isHidden = useLowestHidden(selected !== undefined)
  const told = selected === undefined || !isHidden ? undefined : readings.ownTold(selected)
  if (!told) return null
  return (
    <button
      type="button"
      className="line-act reason-below"
      title={words.chapters.reason}
      onClick={() => lowest()?.scrollIntoView({ block: "start" })}
    >
      {told.headline}
    </button>
  )
}

const lowest = (): Element | null => document.querySelector("section.lowest")

function useLowestHidden(isAsked: boolean): boolean {
  const [isHidden, setHidden] = useState(false)
  useEffect(() => {
    const section = isAsked ? lowest() : null
    if (!section) return setHidden(false)
    const steps = Array.from({ length: 21 }, (_, i) => i / 20)
    const observer = new IntersectionObserver(
      all => setHidden((all.at(-1)?.intersectionRect.height ?? HEADLINE) < HEADLINE),
      { threshold: steps },
    )
    observer.observe(section)
    return () => observer.disconnect()
  }, [isAsked])
  return isHidden
}
