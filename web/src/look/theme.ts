/** Colours of drawings that are shown: names of the window's own colours, so that dark and light are a matter of the style sheet. */
export { SHOWN_THEME as SHOWN } from "@resolutio/core"
