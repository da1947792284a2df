// Fills the 3D view from the bodies that the page carries.
(async () => {
  const frame = document.getElementById('view');
  const message = document.getElementById('view-message');
  try {
    message.textContent = 'Unpacking the bodies.';
    const text = document.getElementById('bodies').textContent;
    const packed = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const unpacked = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate'));
    const bodies = await new Response(unpacked).arrayBuffer();
    const view = Hubwright.viewer(frame, { label: frame.dataset.label });
    view.load(bodies);
    Hubwright.controls(document.getElementById('view-controls'), view);
    message.remove();
    window.bookView = view;
  } catch (error) {
    message.textContent = `No 3D view here: ${error.message}. The pictures below show the same.`;
  }
})();
