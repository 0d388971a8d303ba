/** Files that tests look for outside the project; what is not found is skipped, loudly. */
import { existsSync, readFileSync, readdirSync } from "node:fs"
import { join } from "node:path"
import { fileURLToPath } from "node:url"

const root = fileURLToPath(new URL("../../../../../", import.meta.url))
const standards = process.env["RESOLUTIO_STANDARDS"] ?? join(root, "../shared/standards")
const pieces = process.env["RESOLUTIO_PIECES"] ?? join(root, "../shared/pieces")

/** Text of a file of the standards folder; undefined (and a line on the console) when it is not there. */
export function standard(name: string): string | undefined {
  return find(join(standards, name), "RESOLUTIO_STANDARDS")
}
export function piece(name: string): string | undefined {
  return find(join(pieces, name), "RESOLUTIO_PIECES")
}
/** Names and texts of the MEI files in a folder of the standards. */
export function standardsIn(folder: string): { name: string; text: string }[] {
  const path = join(standards, folder)
  if (!existsSync(path)) {
    find(path, "RESOLUTIO_STANDARDS")
    return []
  }
  const names = readdirSync(path).filter(name => name.endsWith(".mei"))
  return names.map(name => ({ name, text: readFileSync(join(path, name), "utf8") }))
}

function find(path: string, variable: string): string | undefined {
  if (existsSync(path)) return readFileSync(path, "utf8")
  console.warn(`SKIPPED: ${path} is not there; set ${variable} to the folder that holds it to run these tests.`)
  return undefined
}

export interface Schema {
  /** Runs `work` with a function that gives the errors of an MEI text, then frees the schema. */
  using<T>(work: (validate: (text: string) => string[]) => T): Promise<T>
}

/** MEI 5.1's mensural schema; undefined when it is not there. */
export function mensuralSchema(): Schema | undefined {
  const rng = standard("mei/mei-Mensural.rng")
  return rng === undefined ? undefined : { using: work => withSchema(rng, work) }
}

async function withSchema<T>(rng: string, work: (validate: (text: string) => string[]) => T): Promise<T> {
  const { RelaxNGValidator, XmlDocument, XmlValidateError } = await import("libxml2-wasm")
  const schema = XmlDocument.fromString(rng)
  const validator = RelaxNGValidator.fromDoc(schema)
  const validate = (text: string): string[] => {
    const document = XmlDocument.fromString(text)
    try {
      validator.validate(document)
      return []
    } catch (error) {
      if (!(error instanceof XmlValidateError)) throw error
      return error.details.map(one => `line ${one.line}: ${one.message.trim()}`)
    } finally {
      document.dispose()
    }
  }
  try {
    return work(validate)
  } finally {
    validator.dispose()
    schema.dispose()
  }
}
