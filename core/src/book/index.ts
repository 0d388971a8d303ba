/** Scores and books as they are printed. */
export { ambitusOf, type Ambitus } from "./ambitus.js"
export * from "./engraved/index.js"
export { prefatoryStaves, type PrefatoryOptions, type PrefatoryStaff, type PrefatoryStaves } from "./prefatory.js"
export { BOOK_PARTS, bookOf, type Book, type BookInput, type BookPart, type TitlePage } from "./book.js"
export { paginate, type Block, type PageOfBlocks, type PageRoom } from "./pagination.js"
export type { PrefaceSection } from "./preface.js"
export * from "./report/index.js"
export { stanzaText, textsOf, type TextRun, type TextSection, type TextStanza, type VoiceText } from "./texts.js"
