import { parseTuning, TUNINGS, type TuningName } from "@resolutio/core"
import { useState } from "react"
import { words } from "../../words/index.js"
import { tableText, type Hearing } from "../hearing.js"
import { Choice, valuesOf } from "./controls.js"

const said = words.listening
const OWN = "own"
/** Longer is no table of a dozen notes. */
const LONGEST = 65_536

/** A tuning by its name, or a table of one's own. */
export function TuningChoice({
  hearing,
  set,
}: {
  readonly hearing: Hearing
  readonly set: (more: Partial<Hearing>) => void
}) {
  const { tuning } = hearing
  const [isOwn, setOwn] = useState(typeof tuning === "object")
  const own = typeof tuning === "object" ? tuning : undefined
  const choose = (value: string | undefined): void => {
    setOwn(value === OWN)
    if (value !== OWN) set({ tuning: value as TuningName | undefined })
  }
  return (
    <>
      <Choice
        name={said.tuning}
        value={isOwn || own ? OWN : (tuning as TuningName | undefined)}
        usual={said.byPractice}
        values={[...valuesOf(TUNINGS, said.tunings), [OWN, said.ownTuning]]}
        set={choose}
      />
      {(isOwn || own) && <Table text={own ? tableText(own) : ""} take={table => set({ tuning: table })} />}
    </>
  )
}

/** A line for each note. What cannot be read is told, with its mend, and the sound stays as it was. */
function Table({ text, take }: { readonly text: string; readonly take: (table: Hearing["tuning"]) => void }) {
  const [wrong, setWrong] = useState<readonly string[]>([])
  const read = (typed: string): void => {
    if (typed.trim() === text.trim()) return setWrong([])
    const table = parseTuning(typed, said.tableName)
    setWrong(
      table.ok
        ? []
        : table.problems.map(({ what, where, mend }) => `${where?.line ? said.inLine(where.line) : ""}${what} ${mend}`),
    )
    if (table.ok) take(table.value)
  }
  const open = async (file: File | undefined, area: HTMLTextAreaElement | null): Promise<void> => {
    if (!file || !area) return
    if (file.size > LONGEST) return setWrong([said.tableTooLong])
    area.value = await file.text()
    read(area.value)
  }
  return (
    <div className="own-tuning">
      <p className="quiet">{said.tableHow}</p>
      <textarea
        key={text}
        aria-label={said.tableName}
        aria-invalid={wrong.length > 0}
        rows={6}
        maxLength={LONGEST}
        spellCheck={false}
        defaultValue={text}
        placeholder={said.tableExample}
        onBlur={({ target }) => read(target.value)}
      />
      <label>
        {said.tableFile}
        <input
          type="file"
          accept=".txt,text/plain"
          onChange={({ target }) =>
            void open(target.files?.[0], target.closest(".own-tuning")?.querySelector("textarea") ?? null)
          }
        />
      </label>
      {wrong.map(sentence => (
        <p key={sentence} role="alert" className="wrong">
          {sentence}
        </p>
      ))}
    </div>
  )
}
