"""An unknown drive: from a measurement to the belt to buy, and back."""
