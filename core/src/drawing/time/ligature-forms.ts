/** Ligatures in the time view: one body at its first moment, and smaller heads where its later notes sound. */
import type { Ligature, Note } from "../../page/index.js"
import type { Box, Mark, Path } from "../scene/scene.js"
import { inkOf, LOZENGE_WIDTH, lozengeHead, squareHead } from "../signs/heads.js"
import { drawLigature, editorial, ligatureItem, moved, yOf, type SignStyle } from "../signs/index.js"
import { isLozenge } from "../signs/stems.js"
import { dotsAfter, single, stretch, styleFor, withDots, type Form } from "./form.js"
import type { Look } from "./options.js"
import type { TimedSign, TimeVoice } from "./timeline.js"

/** The whole body, for its first note, which is the voice's sign of this number. */
export function ligatureForm(voice: TimeVoice, first: number, ligature: Ligature, look: Look): Form {
  const timed = voice.signs[first]!
  const heights = new Map(
    voice.signs.slice(first, first + ligature.members.length).map(one => [one.sign.id, one.position] as const),
  )
  const middle = look.compact ? timed.position : 0
  const at = ({ id }: Note): number =>
    ((heights.get(id) ?? timed.position) - middle) / (look.compact ? 1.26 : stretch(look))
  const style = styleFor(voice.style, look)
  const inSpace = { ...ligature, members: ligature.members.map(member => dotInSpace(member, timed.position, look)) }
  const drawn = drawLigature(inSpace, at, style)
  const body = drawn.members.find(member => member.sign.kind === "note")?.body ?? drawn.body
  const parts = drawn.members.map(member => [member.sign.id, member.body] as const)
  const { item, box } = editorial(ligature, ligatureItem(ligature, drawn), drawn.box)
  const dots = dotsAfter(
    timed.after.filter(dot => !ligature.members.includes(dot)),
    timed.position,
    drawn,
    look,
  )
  return single([item, ...dots.items], [box, ...dots.boxes], body, look, parts)
}

function dotInSpace<T extends Ligature["members"][number]>(member: T, position: number, look: Look): T {
  if (member.kind !== "dot" || look.compact) return member
  return { ...member, loc: (member.loc ?? (position % 2 === 0 ? position + 1 : position)) / stretch(look) }
}

const ECHO = 0.8

/** Whether a note's echo is void, as its head is: a full one would look coloured in white notation. */
export const isVoidEcho = ({ sign }: TimedSign, { white }: SignStyle): boolean =>
  sign.kind === "note" && inkOf(sign.coloration, white).filling.kind === "void"

/** A smaller head where a later note of a ligature sounds: it was not written there. */
export function echoForm(timed: TimedSign, style: SignStyle, look: Look): Form {
  const scale = look.headSpace * ECHO
  const level = timed.reading.level ?? "brevis"
  const filling = { kind: isVoidEcho(timed, style) ? "void" : "full" } as const
  const path: Path = isLozenge(level) ? lozengeHead(0, 0, filling) : squareHead(0, 0, LOZENGE_WIDTH, filling)
  const y = look.compact ? 0 : yOf(timed.position) * look.staffSpace
  const half = (isLozenge(level) ? 0.78 : 0.6) * scale
  const box: Box = { left: 0, right: LOZENGE_WIDTH * scale, top: y - half, bottom: y + half }
  const mark: Mark = { shape: "path", part: "echo", path: moved(path, 0, y / scale), fill: "clayEdge" }
  const group = { shape: "group", part: "echo-note", x: 0, y: 0, scale, content: [mark] } as const
  return { ...withDots(timed, group, box, timed.position, look), echo: true }
}
