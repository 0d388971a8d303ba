/** Whoever decides here: the same person as a rule decides again. */
const KEPT = "resolutio editor"

export function editorName(): string {
  try {
    return localStorage.getItem(KEPT) ?? ""
  } catch {
    return ""
  }
}

export function keepEditorName(name: string): void {
  try {
    localStorage.setItem(KEPT, name)
  } catch {
    // it is asked again next time
  }
}
