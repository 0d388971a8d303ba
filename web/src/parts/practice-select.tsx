import { PRACTICES } from "@resolutio/core"
import { Options } from "./options.js"

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
      <Options values={PRACTICES.map(({ name, title }) => [name, title])} />
    </select>
  )
}
