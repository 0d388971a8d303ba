/**
 * The parser of XML brings tables of some two thousand entities of HTML, a third of that parser. No file that is read
 * here is HTML: in XML five entities are known of themselves (XML 1.0, fifth edition, section 4.6), and only those stay.
 */
import type { Plugin } from "vite"

export const XML_ENTITIES: Readonly<Record<string, string>> = { amp: "&", apos: "'", gt: ">", lt: "<", quot: '"' }

export function xmlEntities(): Plugin {
  return {
    name: "resolutio-xml-entities",
    apply: "build",
    enforce: "pre",
    load(id) {
      if (!/@xmldom\/xmldom\/lib\/entities\.js$/.test(id.replaceAll("\\", "/"))) return undefined
      const own = `Object.freeze(${JSON.stringify(XML_ENTITIES)})`
      return `exports.XML_ENTITIES = exports.HTML_ENTITIES = exports.entityMap = ${own}`
    },
  }
}
