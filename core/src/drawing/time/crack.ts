/** Where voices part: a crack of two zigzags through the voice, at the first moment it is known no longer to fit. */
import type { SignId } from "../../base/index.js"
import type { Score } from "../../score/index.js"
import type { Item, Mark } from "../scene/scene.js"
import { lineWidth, type Look } from "./options.js"
import { xAt, type PlacedVoice } from "./place.js"
import { firstFrom, NEAR } from "./timeline.js"

export interface Parting {
  readonly signs: ReadonlySet<SignId>
  readonly sentence: string
}

export function partingOf({ fit, problems }: Score): Parting | undefined {
  if (!fit.firstParting) return undefined
  const sentence = problems.find(one => one.code === "voices-part")?.what ?? "The voices do not meet."
  return { signs: new Set(fit.firstParting.signs), sentence }
}

export function drawCracks(voice: PlacedVoice, parting: Parting, look: Look): Item[] {
  const { signs, inOrder } = voice.formed.time
  const near = inOrder
    ? signs.slice(firstFrom(signs, voice.axis.from), firstFrom(signs, voice.axis.to + 3 * NEAR))
    : signs
  return near
    .filter(({ sign, at }) => parting.signs.has(sign.id) && at >= voice.axis.from && at <= voice.axis.to)
    .map(({ sign, at }) => crack(xAt(voice.axis, at), voice, sign.id, look))
}

function crack(x: number, { top, bottom }: PlacedVoice, sign: SignId, look: Look): Item {
  const step = 11 * look.size
  const deep = 6 * look.size
  const zigzag = (shift: number): Mark => {
    const points: [number, number][] = []
    for (let y = top, i = 0; y <= bottom; y += step, i++)
      points.push([x + shift + (i % 2 === 0 ? -deep / 2 : deep / 2), y])
    return {
      shape: "polygon",
      part: "zigzag",
      open: true,
      points,
      stroke: { role: "red", width: lineWidth(look, 2.25), join: "miter" },
    }
  }
  return { shape: "group", part: "crack", data: { sign }, content: [zigzag(-12 * look.size), zigzag(-4 * look.size)] }
}
