/** A small piece within an address: its shorthand, packed. Nothing is sent anywhere; the part behind "#" stays in the browser. */
import { printShorthand, type Page } from "@resolutio/core"

const MARK = "#piece="
/** Characters of an address that mail programs and chats leave whole (common practice: 8,000 and more; with room to spare). */
export const LONGEST_LINK = 6000
/** No piece that was packed into so few characters is larger; more is not unpacked. */
const LARGEST = 1_000_000

/** The address that carries the piece; undefined where it would be too long. */
export async function linkTo(page: Page, base = location.href.split("#")[0]!): Promise<string | undefined> {
  const packed = await through(new Blob([printShorthand(page)]).stream(), new CompressionStream("deflate-raw"))
  const link = base + MARK + toText(packed)
  return link.length > LONGEST_LINK ? undefined : link
}

export const carriesPiece = (hash: string): boolean => hash.startsWith(MARK)

/** The shorthand that the address carries; undefined where it carries none that is whole. */
export async function pieceIn(hash: string): Promise<string | undefined> {
  if (!carriesPiece(hash) || hash.length > 2 * LONGEST_LINK) return undefined
  try {
    const packed = new Blob([fromText(hash.slice(MARK.length)) as BlobPart]).stream()
    return new TextDecoder("utf-8", { fatal: true }).decode(
      await through(packed, new DecompressionStream("deflate-raw")),
    )
  } catch {
    return undefined
  }
}

async function through(
  stream: ReadableStream,
  transform: CompressionStream | DecompressionStream,
): Promise<Uint8Array> {
  const parts: Uint8Array[] = []
  let size = 0
  const reader = (stream.pipeThrough(transform as never) as ReadableStream<Uint8Array>).getReader()
  for (;;) {
    const { done, value } = await reader.read()
    if (done) break
    size += value.length
    if (size > LARGEST) {
      await reader.cancel()
      throw new RangeError("larger than any piece that was packed into an address")
    }
    parts.push(value)
  }
  return new Uint8Array(await new Blob(parts as BlobPart[]).arrayBuffer())
}

/** Letters that an address takes as they are (RFC 4648, section 5). */
const toText = (bytes: Uint8Array): string =>
  btoa(Array.from(bytes, byte => String.fromCharCode(byte)).join(""))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replace(/=+$/, "")
const fromText = (text: string): Uint8Array =>
  Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), letter => letter.charCodeAt(0))
