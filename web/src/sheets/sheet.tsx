import { useLayoutEffect, useRef, type ReactNode } from "react"
import { giveTypedAhead } from "../acts/keyboard.js"
import { ActButton } from "../parts/act-button.js"
import { words } from "../words/index.js"

/** What stands in place of the bands, on the same two edges. */
export function SheetFrame({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  const ref = useRef<HTMLElement>(null)
  const before = useRef<Element | null>(null)
  // before the next key is pressed: an effect would come after the paint, and the first letters would act by themselves
  useLayoutEffect(() => {
    before.current = document.activeElement
    const sheet = ref.current
    const field = sheet?.querySelector<HTMLElement>("[data-first]") ?? sheet
    field?.focus()
    giveTypedAhead(field)
    return () => {
      if (before.current instanceof HTMLElement && before.current.isConnected) before.current.focus()
    }
  }, [])
  return (
    <section ref={ref} className="sheet" aria-label={title} tabIndex={-1}>
      <div className="part">
        <h2 className="rubric">{title}</h2>
        <p className="sheet-close">
          <ActButton id="back" say={words.sheets.close} />
        </p>
      </div>
      {children}
    </section>
  )
}

/** A part of a sheet: its name in the gutter, its matter on the second edge. */
export function SheetPart({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <section className="part" aria-label={name}>
      <h3 className="rubric">{name}</h3>
      <div>{children}</div>
    </section>
  )
}
