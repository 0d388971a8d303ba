/** An id says which sign. Ids live through every edit and are not given out again. */
export type SignId = string & { readonly names: "sign" }
export type VoiceId = string & { readonly names: "voice" }

export const signId = (text: string): SignId => text as SignId
export const voiceId = (text: string): VoiceId => text as VoiceId
