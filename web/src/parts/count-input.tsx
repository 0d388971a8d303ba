export interface CountProps {
  readonly value: number | undefined
  /** Shown where nothing is chosen: empty is as usual, where that is possible. */
  readonly usual?: string
  readonly from: number
  readonly to: number
  readonly step?: number
  readonly set: (value: number | undefined) => void
}

/** A number. It is taken when one is done with typing it, or with `atOnce` at each key. */
export function CountInput({ value, usual, from, to, step, set, atOnce }: CountProps & { readonly atOnce?: boolean }) {
  const take = (text: string): void => {
    const wanted = text.trim() === "" ? undefined : Number(text)
    if (wanted === value || (wanted === undefined && usual === undefined)) return
    if (wanted === undefined || (wanted >= from && wanted <= to)) set(wanted)
  }
  const shown = { type: "number", min: from, max: to, step: step ?? 1, defaultValue: value, placeholder: usual }
  if (atOnce) return <input {...shown} onChange={({ target }) => take(target.value)} />
  return (
    <input
      key={value}
      {...shown}
      onBlur={({ target }) => take(target.value)}
      onKeyDown={event => {
        if (event.key === "Enter") take(event.currentTarget.value)
      }}
    />
  )
}
