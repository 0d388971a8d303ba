/** A text that cannot be read yet, kept letter by letter, so that a closed window loses none of it. */
const nameOf = (piece: string): string => `resolutio text of ${piece}`

export function draftOf(piece: string | undefined): string | undefined {
  try {
    return piece === undefined ? undefined : (localStorage.getItem(nameOf(piece)) ?? undefined)
  } catch {
    return undefined
  }
}

/** Without a text there is nothing to keep any more. */
export function keepDraft(piece: string | undefined, text: string | undefined): void {
  if (piece === undefined) return
  try {
    if (text === undefined) localStorage.removeItem(nameOf(piece))
    else localStorage.setItem(nameOf(piece), text)
  } catch {
    // a browser that keeps nothing has said so already
  }
}
