/**
 * Photographs of the source, and the regions of them in which signs stand. A region is given to one sign, at which it begins, and
 * holds for what follows in the voice up to the next sign that has one: so what is written later between two signs stands in the
 * right region by itself. What a file says of every sign (MEI `facs`) is read in the same way.
 */
import type { SignId, VoiceId } from "../../base/index.js"
import { idGiver, type PageChange } from "../change.js"
import type { Page, Surface, Voice, Zone } from "../page.js"
import type { Sign } from "../signs.js"
import { everySign, flatSigns, type FlatSign } from "../walk.js"
import type { Gesture } from "./gestures.js"
import { around, inserting } from "./place.js"

/** Left, top, right, bottom: whole pixels of the photograph, origin at its top left. */
export type RegionBox = Zone["box"]

/** Where a new region begins: at the voice's beginning, at that of a sign's line, at a sign, or with a new line behind it. */
export type RegionStart = "voice" | "line" | "sign" | "new-line"

/** Id of the region in which each sign of a voice stands, in the order of `flatSigns`. */
export function regionsAlong(voice: Voice): (string | undefined)[] {
  const flat = flatSigns(voice)
  let now: string | undefined
  const along = flat.map(({ sign, ligature }): string | undefined => (now = sign.zone ?? ligature?.zone ?? now))
  return along.map((zone, i) => zone ?? comingFor(flat, along, i))
}

/** A clef or sign right before the first region stands in it too. */
function comingFor(flat: readonly FlatSign[], along: readonly (string | undefined)[], from: number) {
  for (let i = from; i < flat.length; i++) {
    if (along[i] !== undefined) return along[i]
    if (["note", "rest", "break"].includes(flat[i]!.sign.kind)) return undefined
  }
  return undefined
}

/** The region in which a sign stands, if the page has it. */
export function regionOf(page: Page, sign: SignId): Zone | undefined {
  for (const voice of page.voices) {
    const at = flatSigns(voice).findIndex(one => one.sign.id === sign || one.ligature?.id === sign)
    if (at < 0) continue
    const id = regionsAlong(voice)[at]
    return page.zones.find(zone => zone.id === id)
  }
  return undefined
}

/** The first sign that stands in a region, and the voice; undefined where no sign does. */
export function beginningOf(page: Page, zone: string): { readonly voice: Voice; readonly sign: SignId } | undefined {
  for (const voice of page.voices) {
    const flat = flatSigns(voice)
    const at = regionsAlong(voice).findIndex((id, i) => id === zone && flat[i]!.sign.kind !== "break")
    const first = at < 0 ? flat.findIndex(({ sign }) => sign.zone === zone) : at
    if (first >= 0) return { voice, sign: flat[first]!.sign.id }
  }
  return undefined
}

export interface RegionWanted {
  readonly surface: string
  readonly box: RegionBox
  readonly start: RegionStart
  readonly voice: VoiceId
  /** For `line`, `sign` and `new-line`; without it, of the voice's last sign. */
  readonly sign?: SignId
}

/** A new region. One that began at the same sign goes, unless others stand in it. Undefined where there is no sign to give it to. */
export function giveRegion(page: Page, wanted: RegionWanted): (Gesture & { readonly zone: string }) | undefined {
  const { surface, start } = wanted
  const voice = page.voices.find(one => one.id === wanted.voice)
  const id = freeName(page, "region-")
  if (!voice || !page.surfaces.some(one => one.id === surface)) return undefined
  const zone: Zone = { id, surface, box: squared(wanted.box) }
  const given = start === "new-line" ? newLine(page, voice, wanted.sign, id) : holding(voice, wanted, id)
  if (!given) return undefined
  const left = given.instead === undefined || isShared(page, given.instead) ? page.zones : without(page, given.instead)
  const facsimile: PageChange = { kind: "set-facsimile", surfaces: page.surfaces, zones: [...left, zone] }
  return { change: { kind: "several", changes: [facsimile, given.change] }, zone: id, select: given.select }
}

interface Given {
  readonly change: PageChange
  readonly select: SignId
  /** The region that the sign had. */
  readonly instead?: string
}

function holding(voice: Voice, { start, sign }: RegionWanted, zone: string): Given | undefined {
  const flat = flatSigns(voice)
  const asked = sign === undefined ? flat.length - 1 : flat.findIndex(one => one.sign.id === sign)
  if (asked < 0) return undefined
  const at = start === "voice" ? 0 : start === "sign" ? asked : beginningOfLine(flat, asked)
  const old = flat[at]!.sign
  return {
    change: { kind: "replace-sign", sign: { ...old, zone } as Sign },
    select: sign ?? old.id,
    ...(old.zone === undefined ? {} : { instead: old.zone }),
  }
}

/** The break that begins it; of the first line, the first sign. */
const beginningOfLine = (flat: readonly FlatSign[], at: number): number =>
  Math.max(
    0,
    flat.findLastIndex(({ sign }, i) => i <= at && sign.kind === "break"),
  )

function newLine(page: Page, voice: Voice, after: SignId | undefined, zone: string): Given | undefined {
  const behind = after ?? flatSigns(voice).at(-1)?.sign.id
  const here = around(page, { voice: voice.id, ...(behind === undefined ? {} : { after: behind }) })
  if (!here) return undefined
  const id = idGiver(page)()
  return { change: inserting(here, { id, kind: "break", of: "line", zone }), select: id }
}

/** The region lies elsewhere. */
export function moveRegion(page: Page, zone: string, box: RegionBox): PageChange {
  const zones = page.zones.map(one => (one.id === zone ? { ...one, box: squared(box) } : one))
  return { kind: "set-facsimile", surfaces: page.surfaces, zones }
}

/** Takes regions away, also from the signs that stand in them. */
export function takeRegions(page: Page, gone: ReadonlySet<string>, surfaces = page.surfaces): PageChange {
  const bare = (sign: Sign): Sign => {
    const { zone: _, ...rest } = sign
    return rest as Sign
  }
  const own = (sign: Sign): boolean => sign.zone !== undefined && gone.has(sign.zone)
  const signs = page.voices.flatMap(({ signs }) =>
    signs.flatMap((sign): PageChange[] => {
      const members = sign.kind === "ligature" ? sign.members.filter(own) : []
      const whole: PageChange[] = own(sign) ? [{ kind: "replace-sign", sign: bare(sign) }] : []
      return [...whole, ...members.map((one): PageChange => ({ kind: "replace-sign", sign: bare(one) }))]
    }),
  )
  const zones = page.zones.filter(one => !gone.has(one.id))
  return { kind: "several", changes: [{ kind: "set-facsimile", surfaces, zones }, ...signs] }
}

/** A photograph `width` by `height` px is added behind the others. */
export function addPhotograph(
  page: Page,
  { image, label, width, height }: { image: string; label: string; width: number; height: number },
): { readonly change: PageChange; readonly surface: string } {
  const id = freeName(page, "folio-")
  const surface: Surface = { id, label, image, box: [0, 0, width, height] }
  return {
    change: { kind: "set-facsimile", surfaces: [...page.surfaces, surface], zones: page.zones },
    surface: id,
  }
}

/** The photograph with its regions is taken away. */
export function takePhotograph(page: Page, surface: string): PageChange {
  const gone = new Set(page.zones.filter(one => one.surface === surface).map(one => one.id))
  return takeRegions(
    page,
    gone,
    page.surfaces.filter(one => one.id !== surface),
  )
}

/** Changes what is told of a photograph. */
export function setPhotograph(page: Page, surface: string, set: Partial<Omit<Surface, "id">>): PageChange {
  const surfaces = page.surfaces.map(one => (one.id === surface ? { ...one, ...set } : one))
  return { kind: "set-facsimile", surfaces, zones: page.zones }
}

/** Corners in their order, whole numbers, never without an extent. */
function squared([left, top, right, bottom]: RegionBox): RegionBox {
  const [x1, x2] = [Math.round(Math.min(left, right)), Math.round(Math.max(left, right))]
  const [y1, y2] = [Math.round(Math.min(top, bottom)), Math.round(Math.max(top, bottom))]
  return [x1, y1, Math.max(x2, x1 + 1), Math.max(y2, y1 + 1)]
}

const without = (page: Page, zone: string): Zone[] => page.zones.filter(one => one.id !== zone)

function isShared(page: Page, zone: string): boolean {
  let count = 0
  for (const voice of page.voices)
    for (const { sign, ligature } of flatSigns(voice)) if (sign.zone === zone || ligature?.zone === zone) count++
  return count > 1
}

function freeName(page: Page, prefix: string): string {
  const taken = new Set<string>([...page.surfaces, ...page.zones].map(one => one.id))
  for (const { signs } of page.voices) for (const { id } of everySign(signs)) taken.add(id)
  let running = 1
  while (taken.has(prefix + running)) running++
  return prefix + running
}
