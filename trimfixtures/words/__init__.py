"""What pages and commands say of trim masks, in the words of the trade: plain values in, sentences out."""
