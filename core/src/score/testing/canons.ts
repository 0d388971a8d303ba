/** For tests: invented parts sung in canon, otherwise than written, or several times. */
import { parseShorthand } from "../../page/index.js"
import { readPage } from "../../reading/index.js"
import { alignVoices, type AlignOptions, type Score } from "../index.js"

const PART = "C B c4 S d e B f S g a B . c5 S b4 B a L g"
const WORDS = "> Can- ta- te no- bis car- men no- vum"

const PARTS: Readonly<Record<string, string>> = {
  follower: `voice cantus white practice=white\nclef:C1 canon:"Fuga duorum temporum in subdiapente" ${PART}\n${WORDS}`,
  signa: `voice cantus white practice=white\nsig:bf canon:"Trinitas in unitate" C B c4 S d signum M e f B g signum S a b c+s5 d c B g4 L f`,
  stated: `voice cantus white practice=white
O B c4 S d B . e M f g S a [f/down(left) e_ d] red{B e d c} L g
decision on=1.1 voice voice=(after=3S values=2) voice=(backwards interval=-8) voice=(inverted interval=3)`,
  mensurations: `voice contra white practice=white\ncanon:"In epidiatessaron" O C B c4 S d e f rB B g S a M b c5 B d`,
  statements: `voice cantus black practice=ars-nova
C ${"B a4 S b a M g a S b ".repeat(6)} L a
voice tenor black practice=ars-nova
clef:C4 mens:modusmaior=2:modus=2:tempus=2:prolatio=2 canon:"Tenor dicitur ter, secundo per semi, tertio per tertium" L d3 rB B e f L g`,
}

const VIRELAI = `voice cantus black practice=ars-nova
clef:C2 O. sig:bf refrain-start B c5 S b4 M a g . f S [g a] refrain-end repeat-start B b M c5 d S b4 a ending-open B g repeat-end ending-closed S a M g f B g
>  Or ve-   nez a dan- cer da- me la bel- le a tres grand joi- e
2> Que l'a- mour en  es-
voice tenor black practice=ars-nova
clef:C4 O. B c4 S b3 M a c4 . d S c4 b3 B g M e f S g f B c S f M e d B c`

function scoreOf(text: string, repeats?: AlignOptions["repeats"]): Score {
  const read = parseShorthand(text)
  if (!read.ok || read.problems.length > 0) throw new Error(read.problems[0]!.what)
  return alignVoices(read.value, readPage(read.value), { repeats })
}

export const CANONS: readonly (readonly [name: string, make: () => Score])[] = Object.entries(PARTS).map(
  ([name, text]) => [name, () => scoreOf(text)],
)

/** An invented virelai as it stands and written out. */
export const FORMS: readonly (readonly [repeats: string, make: () => Score])[] = (
  ["signs", "written", "stanzas"] as const
).map(repeats => [repeats, () => scoreOf(VIRELAI, repeats)])
