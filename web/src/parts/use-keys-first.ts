import { useLayoutEffect, useRef, type RefObject } from "react"

/**
 * What was opened has the keys: its part marked `data-first`, else its first button or field. When it goes, whatever had them before
 * has them again.
 */
export function useKeysFirst<T extends HTMLElement>(): RefObject<T | null> {
  const ref = useRef<T>(null)
  // before the next key is pressed: an effect would come after the paint, and the first letters would act by themselves
  useLayoutEffect(() => {
    const before = document.activeElement
    const own = ref.current
    const marked = own?.matches("[data-first]") ? own : own?.querySelector<HTMLElement>("[data-first]")
    const first = marked ?? own?.querySelector<HTMLElement>("button, input, select")
    first?.focus({ preventScroll: true })
    return () => {
      const { activeElement: now } = document
      const isLost = now === null || now === document.body || own?.contains(now)
      if (isLost && before instanceof HTMLElement && before.isConnected) before.focus({ preventScroll: true })
    }
  }, [])
  return ref
}
