import { createRoot } from "react-dom/client"
import { Acts } from "./acts/acts.js"
import { windowActs } from "./acts/definitions.js"
import { listenToKeys } from "./acts/keyboard.js"
import { AppProvider, startDesk } from "./app.js"
import { Documents } from "./document/documents.js"
import { begin } from "./document/begin.js"
import { loadRest } from "./parts/later.js"
import { trustedAddress } from "./parts/trusted.js"
import { Engraver } from "./engraving/engraver.js"
import { Presenter } from "./presenting/presenter.js"
import { Keyboard } from "./keyboard/keyboard.js"
import { Readings } from "./reading/readings.js"
import { Player } from "./sound/player.js"
import { Walk } from "./walk/walk.js"
import { view } from "./view/view.js"
import { Workbench } from "./workbench.js"
import "./look/fonts.css"
import "./look/colours.css"
import "./look/base.css"
import "./look/workbench.css"
import "./look/small-window.css"
import "./look/writing.css"
import "./look/photograph.css"
import "./look/presenting.css"
import "./look/room.css"
import "./look/sheets.css"
import "./look/chapters.css"
import "./look/exporting.css"
import "./look/hearing.css"

const documents = new Documents()
const readings = new Readings(documents, startDesk())
const acts = new Acts()
const player = new Player()
const presenter = new Presenter(readings)
const walk = new Walk(documents, readings)
const keyboard = new Keyboard({ documents, readings })
acts.add(...windowActs({ documents, readings, player, presenter, walk, keyboard }))
listenToKeys(acts)
documents.store.subscribe(({ record }) => player.open(record?.id))
createRoot(document.getElementById("workbench")!).render(
  <AppProvider value={{ documents, readings, acts, player, engraver: new Engraver(), presenter, walk, keyboard }}>
    <Workbench />
  </AppProvider>,
)
void begin(documents, readings)
const unsubscribe = readings.store.subscribe(({ systems }) => {
  if (systems.size === 0) return
  unsubscribe()
  // once the first piece has been read and drawn
  setTimeout(() => void prepare(), 300)
})

/** What is wanted later is loaded and made quick. */
async function prepare(): Promise<void> {
  const { rehearse } = await import("./rehearsal.js")
  await rehearse(documents, { isOff: () => view.getState().presenting === true, rest: loadRest })
}

// Kept for use without a network; from a file, or where the browser has no such thing, it works without.
if ("serviceWorker" in navigator && location.protocol.startsWith("http") && import.meta.env.PROD)
  navigator.serviceWorker
    .register(trustedAddress("service-worker.js") as string)
    .catch((error: unknown) => console.warn("not kept for use without a network:", error))
