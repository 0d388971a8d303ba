import { memo } from "react"
import { useApp } from "../app.js"
import { keyShown } from "../acts/acts.js"

/** An act as words with their key. */
export const ActButton = memo(function ActButton({
  id,
  framed,
  say,
}: {
  readonly id: string
  readonly framed?: boolean
  readonly say?: string
}) {
  const act = useApp().acts.find(id)
  return (
    <button
      type="button"
      className={framed ? "act framed" : "act"}
      aria-keyshortcuts={act.key && ariaKey(act.key)}
      onClick={act.run}
    >
      {say ?? act.words}
      {act.key && <Key of={act.key} />}
    </button>
  )
})

/** Spoken by `aria-keyshortcuts`, so not again. */
export function Key({ of }: { readonly of: string }) {
  return <kbd aria-hidden="true">{keyShown(of)}</kbd>
}

const ariaKey = (key: string): string => key.replace("Ctrl", "Control").replace(/ $/, "Space")
