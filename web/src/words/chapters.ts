import { chaptersEnglish } from "./english/chapters.js"

/** Texts of the lowest band's chapters, without the Reason. */
export const chapterWords: typeof chaptersEnglish = chaptersEnglish
