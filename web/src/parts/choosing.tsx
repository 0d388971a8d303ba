/** What one chooses with on a sheet: its name over it. */
import type { ReactNode } from "react"
import { CountInput, type CountProps } from "./count-input.js"
import { Options } from "./options.js"

function Named({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <label className="choice-of-file">
      <span className="quiet">{name}</span>
      {children}
    </label>
  )
}

export function Choice<T extends string>({
  name,
  value,
  values,
  set,
}: {
  readonly name: string
  readonly value: T
  readonly values: readonly (readonly [T, string])[]
  readonly set: (to: T) => void
}) {
  return (
    <Named name={name}>
      <select value={value} onChange={({ target }) => set(target.value as T)}>
        <Options values={values} />
      </select>
    </Named>
  )
}

export function Count({ name, ...count }: CountProps & { readonly name: string }) {
  return (
    <Named name={name}>
      <CountInput {...count} atOnce />
    </Named>
  )
}

export function Text({
  name,
  value,
  example,
  set,
}: {
  readonly name: string
  readonly value: string
  readonly example: string
  readonly set: (text: string) => void
}) {
  return (
    <Named name={name}>
      <input
        type="text"
        maxLength={300}
        value={value}
        placeholder={example}
        onChange={({ target }) => set(target.value)}
      />
    </Named>
  )
}

/** Several of a few. */
export function Ticks({
  name,
  values,
  chosen,
  set,
}: {
  readonly name: string
  readonly values: readonly (readonly [value: string, shown: string])[]
  readonly chosen: readonly string[]
  readonly set: (chosen: readonly string[]) => void
}) {
  const turn = (one: string, isOn: boolean): void =>
    set(values.map(([value]) => value).filter(value => (value === one ? isOn : chosen.includes(value))))
  return (
    <fieldset className="ticks">
      <legend className="quiet">{name}</legend>
      {values.map(([value, shown]) => (
        <label key={value} className="tick">
          <input
            type="checkbox"
            checked={chosen.includes(value)}
            onChange={({ target }) => turn(value, target.checked)}
          />
          {shown}
        </label>
      ))}
    </fieldset>
  )
}
