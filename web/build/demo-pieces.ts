/**
 * The demo pieces as a module: `import pieces from "demo:pieces"` gives each with its file, its title and a way to its text, which
 * is loaded when it is opened.
 */
import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import type { Plugin } from "vite"

const NAME = "demo:pieces"
const INNER = `\0${NAME}`

export function demoPieces(folder: string): Plugin {
  const textOf = (file: string): string => readFileSync(join(folder, file), "utf8")
  return {
    name: "resolutio-demo-pieces",
    resolveId: source => (source === NAME || source.startsWith(`${NAME}/`) ? `\0${source}` : undefined),
    load(id) {
      if (id.startsWith(`${INNER}/`)) return `export default ${JSON.stringify(textOf(id.slice(INNER.length + 1)))}`
      if (id !== INNER) return undefined
      const files = readdirSync(folder)
        .filter(file => file.endsWith(".figurae"))
        .sort()
      const pieces = files.map(file => {
        const [name, title] = [file, titleIn(textOf(file)) ?? file].map(one => JSON.stringify(one))
        const text = `() => import(${JSON.stringify(`${NAME}/${file}`)}).then(one => one.default)`
        return `{ file: ${name}, title: ${title}, text: ${text} }`
      })
      return `export default [${pieces.join(", ")}]`
    },
  }
}

const titleIn = (text: string): string | undefined => /^title: (.+)$/m.exec(text)?.[1]
