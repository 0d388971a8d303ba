import { useLayoutEffect, useRef, useState, type RefObject } from "react"

/** Width and height of an element's inside, in px; 0 until it is shown. */
export function useSize<T extends Element>(): [ref: RefObject<T | null>, width: number, height: number] {
  const ref = useRef<T>(null)
  const [size, setSize] = useState({ width: 0, height: 0 })
  useLayoutEffect(() => {
    const element = ref.current
    if (!element) return undefined
    const measure = (): void => {
      const { clientWidth: width, clientHeight: height } = element
      setSize(old => (old.width === width && old.height === height ? old : { width, height }))
    }
    const watcher = new ResizeObserver(measure)
    watcher.observe(element)
    measure()
    return () => watcher.disconnect()
  }, [])
  return [ref, size.width, size.height]
}
