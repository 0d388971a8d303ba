/** The page's texts. */
export const SHOW_WORDS = {
  page: "Page",
  pageHow: "The signs as they stand, voice by voice. Arrow keys go along them.",
  time: "Time",
  timeHow: "All voices over one axis, each sign as long as it lasts. Arrow keys go along them.",
  reason: "Reason",
  start: "Ask any sign why it lasts as long as it does.",
  startHow: "Choose one with a click, or go along the music with the arrow keys.",
  listening: "Listening",
  level: "Level",
  speed: "Speed",
  at: "Where it is",
  quiet: "Playback begins quietly. Raise the level when you are ready.",
  how: "How it sounds",
  silent: "This file has no sound.",
  keys: "Space plays and pauses. ← → go from sign to sign, ↑ ↓ to the voice above or below, Home and End to the first and the last.",
  made: (maker: string) => `Made with ${maker}. It works by itself, without a network, and sends nothing anywhere.`,
  script: {
    play: "Listen",
    pause: "Pause",
    dark: "Dark",
    light: "Light",
    because: "Because of",
    seconds: "seconds of",
    failed: "This browser could not play the sound.",
  },
}
export type ShowWords = typeof SHOW_WORDS
