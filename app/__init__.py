"""What is seen: pages in the browser. No physics here."""
