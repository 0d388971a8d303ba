import { exportEnglish } from "./english/export.js"

/** Texts of what goes out. */
export const exportWords: typeof exportEnglish = exportEnglish
