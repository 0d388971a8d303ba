/** An id says which sign. Ids live through every edit and are not given out again. */
export type SignId = string & { readonly names: "sign" }
/** An id says which voice, as one says which sign. */
export type VoiceId = string & { readonly names: "voice" }

/** Takes the text as the id of a sign. */
export const signId = (text: string): SignId => text as SignId
/** Takes the text as the id of a voice. */
export const voiceId = (text: string): VoiceId => text as VoiceId
