/**
 * Which attributes and child elements tell of which members of a sign. A file may write one thing in several ways
 * (a stem as attribute or as child), so when a member changes all that could tell of it is taken out first.
 */
import type { Sign } from "../../../page/index.js"

export interface Group {
  readonly members: readonly string[]
  readonly attributes: readonly string[]
  readonly children: readonly string[]
}

const group = (members: string[], attributes: string[], children: string[] = []): Group => ({
  members,
  attributes,
  children,
})

const INK = ["colored", "color", "head.fill", "head.color", "head.fillcolor"]
const SHAPE = group(["shape"], ["altsym", "head.altsym", "glyph.auth", "glyph.num", "glyph.name"])

export const GROUPS: Partial<Record<Sign["kind"], readonly Group[]>> = {
  note: [
    group(["level"], ["dur"]),
    group(["pitch"], ["pname", "oct"]),
    group(["given", "duplex"], ["dur.quality", "num", "numbase"]),
    group(["accidental", "accidentalByEditor", "accidentalInForce"], ["accid", "accid.ges"], ["accid"]),
    group(["coloration"], INK),
    group(["stems"], ["stem.dir", "stem.pos", "stem.len", "stem.form"], ["stem"]),
    group(["plica"], [], ["plica"]),
    group(["syllables"], [], ["verse", "syl", "refrain"]),
    group(["fermata"], ["fermata"]),
    SHAPE,
  ],
  rest: [
    group(["level", "spaces", "given"], ["dur", "spaces", "dur.quality", "num", "numbase"]),
    group(["coloration"], INK),
  ],
  mensuration: [SHAPE, group(["letter"], ["divisio", "sign"]), group(["sign"], ["sign"])],
  signature: [group(["accidentals"], ["sig", "pname", "accid"], ["keyAccid"])],
}
