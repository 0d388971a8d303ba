import { useEffect, useRef, useState } from "react"
import { useApp } from "../app.js"
import { DEMO_PIECES, openDemo } from "../document/begin.js"
import { openFile } from "../doors/open-file.js"
import type { PieceRecord } from "../keep/types.js"
import { setSheet, view } from "../view/view.js"
import { words } from "../words/index.js"
import { NewPieceForm } from "./new-piece-form.js"
import { SheetFrame, SheetPart } from "./sheet.js"

const said = words.sheets.open

/** Pieces that are kept here, a new one, a file, the demo pieces. */
export function OpenSheet() {
  return (
    <SheetFrame title={said.title}>
      <SheetPart name={said.goOn}>
        <Kept />
        <FileDoor />
      </SheetPart>
      <SheetPart name={said.begin}>
        <NewPieceForm />
      </SheetPart>
      <SheetPart name={said.look}>
        <Demos />
      </SheetPart>
    </SheetFrame>
  )
}

/** A new piece alone, ready for its title. */
export function NewSheet() {
  return (
    <SheetFrame title={said.begin}>
      <SheetPart name={words.acts.new}>
        <NewPieceForm first />
      </SheetPart>
    </SheetFrame>
  )
}

function Kept() {
  const { documents } = useApp()
  const [pieces, setPieces] = useState<readonly PieceRecord[]>()
  useEffect(() => void documents.database.list().then(setPieces, () => setPieces([])), [documents])
  const remove = async (id: string): Promise<void> => {
    if (documents.store.getState().record?.id === id) await documents.close()
    await documents.database.remove(id)
    setPieces(await documents.database.list())
  }
  if (pieces?.length === 0) return <p className="quiet">{said.nothingKept}</p>
  return (
    <ul className="pieces">
      {pieces?.map(piece => (
        <li key={piece.id}>
          <button type="button" className="line-act" onClick={() => void goTo(() => documents.open(piece.id))}>
            <span className="sentence">{piece.title.trim() === "" ? words.untitled : piece.title}</span>
            <span className="quiet">
              {piece.voices.join(", ")} · {when(piece.changed)}
            </span>
          </button>
          <Remove piece={piece} onRemove={() => void remove(piece.id)} />
        </li>
      ))}
    </ul>
  )
}

async function goTo(open: () => Promise<unknown>): Promise<void> {
  view.setState({ selected: undefined })
  await open()
  setSheet(undefined)
}

/** Asked once more before it is done: there is no way back. */
function Remove({ piece, onRemove }: { readonly piece: PieceRecord; readonly onRemove: () => void }) {
  const [asked, setAsked] = useState(false)
  return (
    <button
      type="button"
      className="line-act remove"
      aria-label={asked ? undefined : said.remove(piece.title || words.untitled)}
      onClick={asked ? onRemove : () => setAsked(true)}
      onBlur={() => setAsked(false)}
    >
      {asked ? said.sure : said.removeWord}
    </button>
  )
}

const DAY = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" })
const when = (time: number): string => DAY.format(time)

function FileDoor() {
  const { documents, readings } = useApp()
  const field = useRef<HTMLInputElement>(null)
  return (
    <>
      <button type="button" className="act" data-first onClick={() => field.current?.click()}>
        {said.file}
      </button>
      <p className="quiet">{said.fileHow}</p>
      <input
        ref={field}
        type="file"
        hidden
        aria-label={said.file}
        accept=".mei,.xml,.figurae,.txt"
        onChange={({ target }) => {
          const [file] = target.files ?? []
          if (file) void openFile(file, documents, readings)
          target.value = ""
        }}
      />
    </>
  )
}

function Demos() {
  const { documents, readings } = useApp()
  return (
    <ul className="pieces">
      {DEMO_PIECES.map(({ file, title }) => (
        <li key={file}>
          <button
            type="button"
            className="line-act"
            onClick={() => void goTo(() => openDemo(documents, readings, file))}
          >
            <span className="sentence">{title}</span>
          </button>
        </li>
      ))}
    </ul>
  )
}
