/**
 * All texts of the window that a person reads: those it opens with. What is wanted later has its texts in `export.ts` and
 * `chapters.ts`, loaded with it. What is said of music comes from the core. For another language: one more folder.
 */
import { english } from "./english/window.js"

export type Words = typeof english
export const words: Words = english
