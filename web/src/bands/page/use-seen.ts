import { useEffect, useMemo, useState } from "react"

/** The part of a scrolled picture that is seen, and what is near to it, in px. */
export interface Seen {
  readonly from: number
  readonly to: number
}
/** Parts are drawn a little before they are seen. */
const AHEAD = 240
/** Not every px makes it another part. */
const STEP = 200

export function useSeen(scroll: { readonly current: HTMLElement | null }, height: number): Seen {
  const [top, setTop] = useState(0)
  useEffect(() => {
    const element = scroll.current
    const see = (): void => setTop(Math.floor((element?.scrollTop ?? 0) / STEP) * STEP)
    element?.addEventListener("scroll", see, { passive: true })
    return () => element?.removeEventListener("scroll", see)
  }, [scroll])
  return useMemo(() => ({ from: top - AHEAD, to: top + height + AHEAD + STEP }), [top, height])
}
