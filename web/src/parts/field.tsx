import { useId, type ReactNode } from "react"

/** A field with its name before it. */
export function Field({
  name,
  how,
  children,
}: {
  readonly name: string
  readonly how?: string
  readonly children: (id: string) => ReactNode
}) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{name}</label>
      {children(id)}
      {how && <p className="quiet">{how}</p>}
    </div>
  )
}
