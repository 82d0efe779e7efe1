// The one websocket. It carries bytes; when to connect again is the core's decision.

export interface SocketEvents {
  connected(): void;
  disconnected(): void;
  frame(bytes: Uint8Array): void;
}

export class Socket {
  #socket: WebSocket | undefined;

  constructor(readonly events: SocketEvents) {}

  connect(url: string): void {
    this.#drop();
    let socket: WebSocket;
    try {
      socket = new WebSocket(url);
    } catch {
      // a host that makes no address: to the core it is a host that does not answer
      queueMicrotask(() => this.events.disconnected());
      return;
    }
    socket.binaryType = "arraybuffer";
    socket.onopen = () => this.events.connected();
    socket.onmessage = ({ data }) => {
      if (data instanceof ArrayBuffer) this.events.frame(new Uint8Array(data));
    };
    socket.onclose = () => {
      if (this.#socket !== socket) return;
      this.#socket = undefined;
      this.events.disconnected();
    };
    this.#socket = socket;
  }

  /** What is sent while there is no connection is lost; the core sends it again after the next. */
  send(bytes: Uint8Array): void {
    if (this.#socket?.readyState === WebSocket.OPEN) this.#socket.send(bytes as Uint8Array<ArrayBuffer>);
  }

  close(): void {
    this.#drop();
  }

  /** Gives a connection up that may be dead without knowing it, and says so to the core, which makes a new one. */
  replace(): void {
    if (!this.#socket) return;
    this.#drop();
    this.events.disconnected();
  }

  #drop(): void {
    const socket = this.#socket;
    this.#socket = undefined;
    if (!socket) return;
    socket.onopen = socket.onmessage = socket.onclose = null;
    socket.close();
  }
}
