"use strict";
const shown = document.getElementById("bench");
const socket = new WebSocket(location.origin.replace(/^http/, "ws") + "/bench");
socket.binaryType = "arraybuffer";
socket.onopen = () => socket.send(JSON.stringify(["open", { width: 80, height: 24, bench: "" }]));
socket.onmessage = (message) => {
  if (typeof message.data !== "string") shown.textContent += new TextDecoder().decode(message.data);
};
document.addEventListener("keydown", (event) => {
  if (event.key.length === 1) socket.send(JSON.stringify(["type", event.key]));
});
