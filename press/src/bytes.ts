/** One after the other in one array. */
export function joined(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"

/** RFC 4648, section 4. */
export function base64(bytes: Uint8Array): string {
  const parts: string[] = []
  for (let i = 0; i < bytes.length; i += 3) {
    const [a, b, c] = [bytes[i]!, bytes[i + 1], bytes[i + 2]]
    const all = (a << 16) | ((b ?? 0) << 8) | (c ?? 0)
    const third = b === undefined ? "=" : LETTERS[(all >> 6) & 63]!
    const fourth = c === undefined ? "=" : LETTERS[all & 63]!
    parts.push(LETTERS[all >> 18]! + LETTERS[(all >> 12) & 63]! + third + fourth)
  }
  return parts.join("")
}
