/** Whether there is room for all one can do; in a small window some of it waits behind a word. */
export const isWide = (): boolean => matchMedia("(min-width: 700px)").matches
