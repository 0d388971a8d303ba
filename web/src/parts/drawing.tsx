import { memo, useLayoutEffect, useRef } from "react"
import { showDrawing } from "./trusted.js"

/** A group of an SVG whose content is a drawing already written. It is put in anew only when it is another. */
export const Drawing = memo(function Drawing({
  svg,
  x = 0,
  y = 0,
  className,
}: {
  readonly svg: string
  readonly x?: number
  readonly y?: number
  readonly className?: string
}) {
  const ref = useRef<SVGGElement>(null)
  useLayoutEffect(() => {
    if (ref.current) showDrawing(ref.current, svg)
  }, [svg])
  return <g ref={ref} className={className} transform={x === 0 && y === 0 ? undefined : `translate(${x} ${y})`} />
})
