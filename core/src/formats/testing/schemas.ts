/** What a schema has against a document, in the validator's words; nothing where it is valid. */
import { XmlDocument, type RelaxNGValidator, type XsdValidator } from "libxml2-wasm"

export function faultsBy(validator: RelaxNGValidator | XsdValidator, text: string): string[] {
  const document = XmlDocument.fromString(text)
  try {
    validator.validate(document)
    return []
  } catch (error) {
    return [(error as Error).message]
  } finally {
    document.dispose()
  }
}
