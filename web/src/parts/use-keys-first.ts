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
    const first =
      own?.querySelector<HTMLElement>("[data-first]") ?? own?.querySelector<HTMLElement>("button, input, select") ?? own
    first?.focus({ preventScroll: true })
    return () => {
      const { activeElement: now } = document
      const isLost = now === null || now === document.body || own?.contains(now)
      if (isLost && before instanceof HTMLElement && before.isConnected) before.focus({ preventScroll: true })
    }
  }, [])
  return ref
}
