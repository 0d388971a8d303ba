/** Several files as one. */
import { strToU8, zipSync } from "fflate"
import { fileName } from "../file-name.js"

/** The same each time, so all files are given the first day that a zip can have. */
const NO_DATE = new Date(1980, 0, 1)

export function zipped(
  title: string,
  files: readonly (readonly [end: string, content: string | Uint8Array])[],
): Uint8Array {
  const name = fileName(title)
  const all = files.map(([end, content]) => [
    name + fileName(`x${end}`).slice(1),
    typeof content === "string" ? strToU8(content) : content,
  ])
  return zipSync(Object.fromEntries(all) as Record<string, Uint8Array>, { mtime: NO_DATE })
}
