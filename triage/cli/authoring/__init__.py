"""Commands for those who write trees and cases."""
