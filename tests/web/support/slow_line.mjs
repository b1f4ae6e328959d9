// SPDX-License-Identifier: MIT
// A slow 4G line before a service: 150 ms there and back, 1.6 Mbit/s down, 750 kbit/s up. The browser's own tools make a line
// slow only while they watch every request of a page.
import { connect, createServer } from "node:net";
import { setTimeout as pause } from "node:timers/promises";

const one_way_ms = 75;
const down_bytes_per_ms = 1.6e6 / 8 / 1000;
const up_bytes_per_ms = 750e3 / 8 / 1000;

function carry(from, to, bytes_per_ms) {
  let free_ms = 0;
  let last = Promise.resolve();
  const then = (act, at_ms) => {
    last = last.then(() => pause(Math.max(0, at_ms - Date.now()))).then(() => to.destroyed || act());
  };
  from.on("data", (bytes) => {
    free_ms = Math.max(free_ms, Date.now()) + bytes.length / bytes_per_ms;
    then(() => to.write(bytes), free_ms + one_way_ms);
  });
  from.on("end", () => then(() => to.end(), Date.now() + one_way_ms));
  from.on("error", () => to.destroy());
}

/// `through` is an address of the service as it is reached through the line.
export async function slow_line(base) {
  const { hostname, port } = new URL(base);
  const server = createServer((phone) => {
    const service = connect(Number(port), hostname);
    carry(phone, service, up_bytes_per_ms);
    carry(service, phone, down_bytes_per_ms);
  });
  await new Promise((resolve) => server.listen(0, "localhost", resolve));
  const own = server.address().port;
  return { through: (url) => url.replace(`:${port}`, `:${own}`), stop: () => server.close() };
}
