// Stands for React's developer tools, which the plain screen's bundle never opens.
export default { connectToDevTools() {}, initialize() {} };
