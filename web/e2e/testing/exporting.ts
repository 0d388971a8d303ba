/** Files that the window makes, for tests. */
import { readFileSync } from "node:fs"
import { type Opened, type Windows } from "./window.js"

/** Presses the button of this name and takes what is saved. */
export async function saved({ page }: Opened, name: string): Promise<{ file: string; bytes: Buffer; path: string }> {
  const button = page.getByRole("button", { name, exact: true })
  const [download] = await Promise.all([page.waitForEvent("download", { timeout: 90_000 }), button.click()])
  const path = await download.path()
  return { file: download.suggestedFilename(), bytes: readFileSync(path), path }
}

/** A window with the demo piece, all files before one. */
export async function exporting(all: Windows): Promise<Opened> {
  const opened = await all.shared()
  await opened.page.keyboard.press("e")
  await opened.page.getByRole("region", { name: "Export", exact: true }).waitFor()
  return opened
}
