import { useEffect, useRef, useState } from "react"
import { useApp } from "../app.js"
import { fileName } from "../export/file-name.js"
import { making, save, type Making } from "../export/maker.js"
import { GROUPS, USUAL_CHOICES, type Choices, type FormatName, type GroupName } from "../export/offered.js"
import { sound } from "../sound/player.js"
import { chosenIn } from "../view/chosen.js"
import { view } from "../view/view.js"
import { exportWords } from "../words/export.js"
import { words } from "../words/index.js"
import { ExportChoices, ReadingChoices } from "./export-choices.js"
import { SheetPart } from "./sheet.js"

const said = exportWords

/** Every file there is, by what it is about; what can be chosen stands over those for which it matters. */
export function ExportFiles() {
  const [choices, setChoices] = useState<Choices>(USUAL_CHOICES)
  const { state, make, end } = useMaking(choices)
  const set = (more: Partial<Choices>): void => setChoices({ ...choices, ...more })
  return (
    <>
      {(Object.keys(GROUPS) as GroupName[]).map((group, g) => (
        <SheetPart key={group} name={said.groups[group]}>
          <ExportChoices group={group} choices={choices} set={set} />
          <ul className="pieces export">
            {GROUPS[group].map((name, i) => (
              <li key={name}>
                <button
                  type="button"
                  className="act"
                  data-first={g + i === 0 ? "" : undefined}
                  onClick={() => void make(name)}
                >
                  {said.formats[name]}
                </button>
              </li>
            ))}
          </ul>
          {state.group === group && <Told {...state} end={end} />}
        </SheetPart>
      ))}
      <SheetPart name={said.reading}>
        <ReadingChoices choices={choices} set={set} />
      </SheetPart>
    </>
  )
}

interface MakingState {
  /** What is being made, or was made last, is in it. */
  readonly group?: GroupName
  readonly running?: FormatName
  readonly share: number
  readonly told: readonly string[]
}

function useMaking(choices: Choices) {
  const { documents } = useApp()
  const [state, setState] = useState<MakingState>({ share: 0, told: [] })
  const now = useRef<Making>(undefined)
  useEffect(() => () => now.current?.end(), [])
  const end = (): void => {
    now.current?.end()
    now.current = undefined
    setState(before => ({ ...before, running: undefined }))
  }
  const make = async (name: FormatName): Promise<void> => {
    end()
    const group = (Object.keys(GROUPS) as GroupName[]).find(one => (GROUPS[one] as readonly string[]).includes(name))!
    const { page, base } = documents.store.getState()
    const piece = { page, ...(base?.mei === undefined ? {} : { mei: base.mei }) }
    const { selected } = view.getState()
    const chosen = sound.getState().passage?.signs ?? chosenIn(page, view.getState())
    const { hearing } = sound.getState()
    const wishes = {
      ...choices,
      hearing,
      maker: `${words.program} ${VERSION}`,
      ...(selected ? { selected, chosen } : {}),
    }
    const job = making(name, piece, wishes, share => setState(before => ({ ...before, share })))
    now.current = job
    setState({ group, running: name, share: 0, told: [] })
    try {
      const { content, ending, type, losses } = await job.made
      const file = fileName(page.title) + ending
      save(content, file, type)
      setState({ group, share: 1, told: [said.saved(file), ...losses] })
    } catch (error) {
      setState({ group, share: 0, told: [said.failed(error instanceof Error ? error.message : String(error))] })
    }
  }
  return { state, make, end }
}

function Told({ running, share, told, end }: MakingState & { readonly end: () => void }) {
  return (
    <div role="status">
      {running && (
        <p className="quiet">
          {said.making(said.formats[running])} {share > 0 && said.share(share)}{" "}
          <button type="button" className="act" onClick={end}>
            {said.cancel}
          </button>
        </p>
      )}
      {told.map(sentence => (
        <p key={sentence} className="quiet">
          {sentence}
        </p>
      ))}
    </div>
  )
}
