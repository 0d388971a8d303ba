/** What page and time have in common: music that is walked through with keys, and named to those who cannot see it. */
import type { SignId } from "@resolutio/core"
import type { ReactNode, RefObject } from "react"
import { useApp, useReading, useView } from "../app.js"

/**
 * To assistive programs a band is a list of signs with one chosen; the drawing itself is not told. `children` is the drawing.
 */
export function Music({
  name,
  description,
  scroll,
  children,
  onPoint,
}: {
  readonly name: string
  readonly description: string
  readonly scroll: RefObject<HTMLDivElement | null>
  readonly children: ReactNode
  readonly onPoint: (x: number, y: number) => void
}) {
  const selected = useView(state => state.selected)
  const spoken = useSpoken(selected)
  const option = `${name}-selected`
  return (
    <div
      ref={scroll}
      className="shown listbox"
      role="listbox"
      tabIndex={0}
      aria-label={`${name}. ${description}`}
      aria-activedescendant={spoken === undefined ? undefined : `${option}-${selected}`}
      onClick={({ clientX, clientY }) => onPoint(clientX, clientY)}
    >
      <div role="option" className="heard" aria-selected={spoken !== undefined} id={`${option}-${selected ?? "none"}`}>
        {spoken ?? description}
      </div>
      <div role="presentation">{children}</div>
    </div>
  )
}

/** A sign's name for the ear. */
export function useSpoken(sign: SignId | undefined): string | undefined {
  const { readings } = useApp()
  useReading(state => state.revision)
  return sign === undefined ? undefined : (readings.ownTold(sign)?.spoken ?? sign)
}
