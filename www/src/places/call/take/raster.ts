/** From SVG to the pixels of a PNG file. The browser draws it, with the fonts that it has. */

const MM_PER_INCH = 25.4;

/** An SVG of so many millimetres as PNG, without its resolution. */
export async function rasterised(svg: string, widthMm: number, dpi: number): Promise<Uint8Array<ArrayBuffer>> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const width = Math.round((widthMm / MM_PER_INCH) * dpi);
    const canvas = document.createElement('canvas');
    canvas.width = width;
    canvas.height = Math.round(width * shareOf(svg));
    const context = canvas.getContext('2d');
    context?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => {
      canvas.toBlob(resolve, 'image/png');
    });
    if (!context || !blob) {
      throw new Error('It has too many points for this browser. Choose fewer dots per inch, or save it as SVG.');
    }
    return new Uint8Array(await blob.arrayBuffer());
  } finally {
    URL.revokeObjectURL(address);
  }
}

/** Height over width. An image tells its size in whole pixels only. */
function shareOf(svg: string): number {
  const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  return Number(height ?? 1) / Number(width ?? 1);
}
