import { useState, type DragEvent } from "react"
import { useApp } from "../app.js"
import { addPhotographs } from "../photographs/photographs.js"
import { passesForPicture } from "../photographs/passes.js"
import { openFile } from "./open-file.js"

/** Files dropped on an element are opened. */
export function useDrop() {
  const { documents, readings } = useApp()
  const [isOver, setOver] = useState(false)
  const holdsFile = ({ dataTransfer }: DragEvent): boolean => [...dataTransfer.types].includes("Files")
  return {
    isOver,
    onDragOver(event: DragEvent): void {
      if (!holdsFile(event)) return
      event.preventDefault()
      setOver(true)
    },
    onDragLeave(event: DragEvent): void {
      if (event.currentTarget === event.target || !event.relatedTarget) setOver(false)
    },
    onDrop(event: DragEvent): void {
      setOver(false)
      const files = [...event.dataTransfer.files]
      if (files.length === 0) return
      event.preventDefault()
      // of several files all photographs are taken, else the first
      const photographs = files.filter(passesForPicture)
      if (photographs.length > 1) void addPhotographs(documents, photographs)
      else void openFile(files[0]!, documents, readings)
    },
  }
}
