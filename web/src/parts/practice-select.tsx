import { PRACTICES } from "@resolutio/core"

interface PracticeSelectProps {
  readonly id: string
  /** In a form. */
  readonly name?: string
  readonly value?: string
  /** What stands for no practice of its own. */
  readonly none: string
  readonly set?: (practice: string) => void
}

/** The practices by their titles; "" is none. */
export function PracticeSelect({ none, set, ...select }: PracticeSelectProps) {
  return (
    <select {...select} onChange={set && (({ target }) => set(target.value))}>
      <option value="">{none}</option>
      {PRACTICES.map(({ name, title }) => (
        <option key={name} value={name}>
          {title}
        </option>
      ))}
    </select>
  )
}
