/** Perfect levels by the name of their division: the modus of the longa, the tempus of the breve, the prolatio of the semibreve. */
export const MODUS_LEVEL = 1
export const TEMPUS_LEVEL = 2
export const PROLATIO_LEVEL = 3
