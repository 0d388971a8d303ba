/** What signs without length are taken for, where that is not the name of a rule alone. */

/** What a gap in the source is taken for. */
export const LACUNA = "lacuna"
/** What a finis punctorum is taken for. */
export const FINIS = "finis-punctorum"
