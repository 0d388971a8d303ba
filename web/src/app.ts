/** The parts of the program that live as long as the window, made once. */
import readingDesk from "worker:./reading/worker.ts"
import { createContext, useContext } from "react"
import { useStore } from "zustand"
import type { Acts } from "./acts/acts.js"
import type { DocumentState, Documents } from "./document/documents.js"
import type { Engraver } from "./engraving/engraver.js"
import type { Keyboard } from "./keyboard/keyboard.js"
import { workerLine, type DeskLine } from "./reading/client.js"
import type { Readings, ReadingState } from "./reading/readings.js"
import { trustedAddress } from "./parts/trusted.js"
import type { Presenter } from "./presenting/presenter.js"
import type { Player } from "./sound/player.js"
import type { Walk } from "./walk/walk.js"
import { view, type ViewState } from "./view/view.js"

export interface App {
  readonly documents: Documents
  readonly readings: Readings
  readonly acts: Acts
  readonly player: Player
  readonly engraver: Engraver
  readonly presenter: Presenter
  readonly walk: Walk
  readonly keyboard: Keyboard
}
const AppContext = createContext<App | undefined>(undefined)
export const AppProvider = AppContext.Provider

export function useApp(): App {
  const app = useContext(AppContext)
  if (!app) throw new Error("outside the program")
  return app
}
export const useDocument = <T>(pick: (state: DocumentState) => T): T => useStore(useApp().documents.store, pick)
export const useReading = <T>(pick: (state: ReadingState) => T): T => useStore(useApp().readings.store, pick)
export const useView = <T>(pick: (state: ViewState) => T): T => useStore(view, pick)

export const startDesk = (): DeskLine =>
  workerLine(new Worker(trustedAddress(readingDesk) as unknown as string, { type: "module", name: "reading" }))
