import { useState, type DragEvent } from "react"
import { useApp } from "../app.js"
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
      const [file] = event.dataTransfer.files
      if (!file) return
      event.preventDefault()
      void openFile(file, documents, readings)
    },
  }
}
