/** Pictures of the open piece's photographs, taken from the browser's database when they are first seen. */
import { createStore } from "zustand/vanilla"
import type { Documents } from "../document/documents.js"

export interface Pictures {
  readonly piece?: string
  /** Address of each, by surface; null: the picture is not on this machine. */
  readonly addresses: ReadonlyMap<string, string | null>
}
export const pictures = createStore<Pictures>(() => ({ addresses: new Map() }))

const asked = new Set<string>()

/** Looks for the picture, once; what is found is told in the store. */
export async function findPicture(documents: Documents, surface: string): Promise<void> {
  const piece = documents.store.getState().record?.id
  if (piece === undefined) return
  if (pictures.getState().piece !== piece) forget(piece)
  if (asked.has(surface)) return
  asked.add(surface)
  const picture = await documents.database.picture(piece, surface).catch(() => undefined)
  if (!pictures.getState().addresses.get(surface)) tell(piece, surface, picture)
}

/** Keeps a picture of a surface and shows it. */
export async function keepPicture(documents: Documents, surface: string, picture: Blob): Promise<void> {
  const piece = documents.store.getState().record?.id
  if (piece === undefined) return
  await documents.database.keepPicture({ piece, surface, picture })
  if (pictures.getState().piece !== piece) forget(piece)
  asked.add(surface)
  tell(piece, surface, picture)
}

function tell(piece: string, surface: string, picture: Blob | undefined): void {
  const { piece: now, addresses } = pictures.getState()
  if (now !== piece) return
  const old = addresses.get(surface)
  if (old) URL.revokeObjectURL(old)
  const all = new Map(addresses)
  all.set(surface, picture ? URL.createObjectURL(picture) : null)
  pictures.setState({ addresses: all })
}

function forget(piece: string): void {
  for (const address of pictures.getState().addresses.values()) if (address) URL.revokeObjectURL(address)
  asked.clear()
  pictures.setState({ piece, addresses: new Map() })
}
