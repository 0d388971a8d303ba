/**
 * Whether a file is a photograph: a picture of pixels of a kind that the browser decodes. Its first bytes say of which kind and how
 * large it is, before anything is unpacked; then the browser has to decode all of it. Nothing else is let in, whatever its name.
 */
import { words } from "../words/index.js"

export type Checked =
  | { readonly ok: true; readonly picture: Blob; readonly width: number; readonly height: number }
  | { readonly ok: false; readonly what: string; readonly mend: string }

/** In bytes, and in pixels: a folio at 600 dots an inch has about 70 million. */
const MOST_BYTES = 80_000_000
const MOST_PIXELS = 120_000_000
/** So far into a file its size is looked for. */
const HEAD = 2_000_000

export async function photographIn(file: File): Promise<Checked> {
  const { refused } = words.photographs
  const no = (told: { what: string; mend: string }): Checked => ({ ok: false, ...told })
  if (file.size > MOST_BYTES) return no(refused.heavy(file.name))
  const head = new Uint8Array(await file.slice(0, HEAD).arrayBuffer())
  const kind = kindOf(head)
  if (!kind) return no(refused.kind(file.name))
  const told = kind.size(new DataView(head.buffer))
  if (told && told.width * told.height > MOST_PIXELS) return no(refused.large(file.name))
  const picture = new Blob([await file.arrayBuffer()], { type: kind.type })
  try {
    const decoded = await createImageBitmap(picture)
    const { width, height } = decoded
    decoded.close()
    return width * height > MOST_PIXELS ? no(refused.large(file.name)) : { ok: true, picture, width, height }
  } catch {
    return no(refused.broken(file.name))
  }
}

interface PictureSize {
  readonly width: number
  readonly height: number
}
interface PictureKind {
  readonly type: string
  readonly isIt: (head: Uint8Array) => boolean
  readonly size: (head: DataView) => PictureSize | undefined
}
const begins = (head: Uint8Array, at: number, bytes: readonly number[]): boolean =>
  bytes.every((byte, i) => head[at + i] === byte)
const letters = (text: string): number[] => [...text].map(one => one.charCodeAt(0))

/** Signatures and places of the sizes: PNG (Third Edition, 2025), JPEG (ITU-T T.81, 1992), WebP (RFC 9649, 2024). */
const KINDS: readonly PictureKind[] = [
  {
    type: "image/png",
    isIt: head => begins(head, 0, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    size: head => within(head, 24, () => ({ width: head.getUint32(16), height: head.getUint32(20) })),
  },
  { type: "image/jpeg", isIt: head => begins(head, 0, [0xff, 0xd8, 0xff]), size: jpegSize },
  {
    type: "image/webp",
    isIt: head => begins(head, 0, letters("RIFF")) && begins(head, 8, letters("WEBP")),
    size: webpSize,
  },
]
const kindOf = (head: Uint8Array): PictureKind | undefined => KINDS.find(one => one.isIt(head))
const within = (head: DataView, need: number, read: () => PictureSize | undefined): PictureSize | undefined =>
  head.byteLength >= need ? read() : undefined

/** The first frame header; markers before it are passed by their lengths. */
function jpegSize(head: DataView): PictureSize | undefined {
  let at = 2
  while (at + 9 < head.byteLength) {
    if (head.getUint8(at) !== 0xff) return undefined
    const marker = head.getUint8(at + 1)
    const isFrame = marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc
    if (isFrame) return { width: head.getUint16(at + 7), height: head.getUint16(at + 5) }
    at += marker === 0xff ? 1 : 2 + head.getUint16(at + 2)
  }
  return undefined
}

function webpSize(head: DataView): PictureSize | undefined {
  const form = head.byteLength < 30 ? "" : String.fromCharCode(...[12, 13, 14, 15].map(at => head.getUint8(at)))
  const three = (at: number): number => head.getUint16(at, true) + (head.getUint8(at + 2) << 16)
  if (form === "VP8X") return { width: three(24) + 1, height: three(27) + 1 }
  if (form === "VP8 ") return { width: head.getUint16(26, true) & 0x3fff, height: head.getUint16(28, true) & 0x3fff }
  if (form !== "VP8L") return undefined
  const bits = head.getUint32(21, true)
  return { width: (bits & 0x3fff) + 1, height: ((bits >>> 14) & 0x3fff) + 1 }
}
