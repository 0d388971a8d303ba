import type { Server } from "node:http"
export function serve(
  folder: string,
  ports?: readonly number[],
): Promise<{ server: Server; address: string } | undefined>
