/** What one chooses with: each has its name before it. */
import { useEffect, useState, type ReactNode } from "react"
import { CountInput, type CountProps } from "../../parts/count-input.js"
import { Options } from "../../parts/options.js"

export type Values = readonly (readonly [value: string, shown: string])[]

/** Values with their words, in their order. */
export const valuesOf = <T extends string>(all: readonly T[], shown: Readonly<Record<T, string>>): Values =>
  all.map(one => [one, shown[one]])

/** Without a value it is as usual, which has words of its own. */
export function Choice({
  name,
  hidden,
  value,
  usual,
  values,
  set,
}: {
  readonly name: string
  /** The name is only for the ear. */
  readonly hidden?: boolean
  readonly value: string | undefined
  readonly usual?: string
  readonly values: Values
  readonly set: (value: string | undefined) => void
}) {
  const choice = (
    <select
      aria-label={hidden ? name : undefined}
      value={value ?? ""}
      onChange={({ target }) => set(target.value === "" ? undefined : target.value)}
    >
      {usual !== undefined && <option value="">{usual}</option>}
      <Options values={values} />
    </select>
  )
  return hidden ? choice : <Named name={name}>{choice}</Named>
}

function Named({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <label>
      {name}
      {children}
    </label>
  )
}

export function Count({ name, ...count }: CountProps & { readonly name: string }) {
  return (
    <Named name={name}>
      <CountInput {...count} />
    </Named>
  )
}

export function Tick({
  name,
  value,
  set,
}: {
  readonly name: string
  readonly value: boolean
  readonly set: (value: boolean) => void
}) {
  return <input type="checkbox" aria-label={name} checked={value} onChange={({ target }) => set(target.checked)} />
}

interface SliderProps {
  readonly name: string
  readonly value: number
  readonly from: number
  readonly to: number
  readonly step: number
  readonly shown: string
  readonly set: (value: number) => void
}

/** What is chosen is made heard when the slider has come to rest. */
export function Slider({ name, value, from, to, step, shown, set }: SliderProps) {
  const [moving, setMoving] = useState<number>()
  useEffect(() => {
    if (moving === undefined) return undefined
    const rest = setTimeout(() => {
      setMoving(undefined)
      set(moving)
    }, 250)
    return () => clearTimeout(rest)
  }, [moving])
  return (
    <input
      type="range"
      aria-label={name}
      aria-valuetext={shown}
      title={shown}
      min={from}
      max={to}
      step={step}
      value={moving ?? value}
      onChange={({ target }) => setMoving(Number(target.value))}
    />
  )
}
