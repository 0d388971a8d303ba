import { SheetFrame, SheetPart } from "./sheet.js"
import { exportWords } from "../words/export.js"
import { ExportFiles } from "./export-files.js"
import { ExportLink } from "./export-link.js"

const said = exportWords

/** Files of the piece, and the address that carries it. */
export function ExportSheet() {
  return (
    <SheetFrame title={said.title}>
      <ExportFiles />
      <SheetPart name={said.link}>
        <ExportLink />
      </SheetPart>
    </SheetFrame>
  )
}
