/** All texts of the window that a person reads. What is said of music comes from the core. For another language: one more file. */
import { english } from "./english.js"

export type Words = typeof english
export const words: Words = english
