/** MusicXML packed as .mxl: a zip with a list of what is in it. */
import { strToU8, zipSync } from "fflate"

const CONTAINER = `<?xml version="1.0" encoding="UTF-8"?>
<container>
  <rootfiles>
    <rootfile full-path="score.musicxml" media-type="application/vnd.recordare.musicxml+xml"/>
  </rootfiles>
</container>
`

/** The bytes of the file; the same each time, so it is given the first day that a zip can have. */
export function compressed(musicXml: string): Uint8Array {
  return zipSync(
    {
      // First and unpacked, so that the kind of file can be told from its first bytes.
      mimetype: [strToU8("application/vnd.recordare.musicxml"), { level: 0 }],
      "META-INF/container.xml": strToU8(CONTAINER),
      "score.musicxml": strToU8(musicXml),
    },
    { mtime: new Date(1980, 0, 1) },
  )
}
