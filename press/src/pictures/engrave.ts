/** Modern MEI as a drawing. The engraver is large, so it is loaded the first time something is engraved. */
import {
  engraverFonts,
  engraveWith,
  scoreSvg,
  type EngraveOptions,
  type Engraving,
  type ScoreInSystems,
} from "@resolutio/core"

/** An engraver that is ready; it is to be closed after use. */
export interface Engraver {
  /** Throws when the MEI cannot be drawn. */
  engrave(mei: string | ScoreInSystems, options?: EngraveOptions): Engraving
  close(): void
}

/** One SVG document that holds the whole score, system under system, without script. Rejects when the MEI cannot be drawn. */
export async function engrave(
  mei: string | ScoreInSystems,
  options: EngraveOptions & Partial<Words> = {},
): Promise<string> {
  return (await engraveWithWarnings(mei, options)).svg
}
interface Words {
  readonly name: string
  readonly description: string
}

/** The same with the engraver's complaints. */
export async function engraveWithWarnings(
  mei: string | ScoreInSystems,
  { name = "A score", description = "A score in modern notation.", ...options }: EngraveOptions & Partial<Words> = {},
): Promise<{ readonly svg: string; readonly warnings: readonly string[] }> {
  const engraver = await openEngraver()
  try {
    const { score, warnings } = engraver.engrave(mei, options)
    return { svg: scoreSvg(score, { title: name, description }), warnings }
  } finally {
    engraver.close()
  }
}

/** Loads the engraver and teaches it the widths of our letters. */
export async function openEngraver(): Promise<Engraver> {
  const [wasm, esm] = await Promise.all([import("verovio/wasm"), import("verovio/esm")])
  const engine = await wasm.default()
  for (const { name, table } of engraverFonts()) {
    engine.FS_unlink(`/data/text/${name}.xml`)
    engine.FS_createDataFile("/data/text/", `${name}.xml`, table, true, true)
  }
  esm.enableLogToBuffer(true, engine)
  const toolkit = new esm.VerovioToolkit(engine)
  return { engrave: (mei, options) => engraveWith(toolkit, mei, options), close: () => toolkit.destroy() }
}
